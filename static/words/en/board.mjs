// The words of the projector’s board, in English.

import { teams } from './basics.mjs';

export const board = {
  typed: 'Type the animal’s name on the phone.',
  title: 'Board',
  scan: 'Scan, or open',
  offline: 'No phone reaches this machine yet. Join the room’s wi-fi: the way in then shows here by itself.',
  hereNow: (n) => `${teams(n)} on the list`,
  round: (r) => `Round ${r.n} of ${r.of}`,
  question: (q, r) => `Question ${q.n} of ${r.questions}`,
  controls: 'The board’s controls',
  showJoin: 'Show how to join',
  howToJoin: 'How to join',
  full: 'Full screen',
  hold: 'Hold this station',
  before: 'before',
  thisRound: 'this round',
  moved: 'Places moved',
  up: (n) => `up ${n}`,
  down: (n) => `down ${n}`,
  qrAlt: 'QR code of the join link',
  noTeams: 'The list is open',
  answered: (n, of) => `${n} of ${of} answered`,
  free: 'Buzz is open',
  holds: (name) => `${name} has it`,
  locked: (n) => `${teams(n)} locked out`,
  afterRound: (r) => `After round ${r.n} of ${r.of}`,
  final: 'Final ranking',
  showCode: 'Show the board of this game',
};
