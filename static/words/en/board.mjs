// The words of the projector’s board, in English.

import { teams } from './basics.mjs';

export const board = {
  typed: 'Type the animal’s name on the phone.',
  title: 'Board',
  open: 'Open',
  enter: 'and enter the join code',
  scan: 'or scan this code',
  qrAlt: 'QR code of the join link',
  noTeams: 'No team yet',
  answered: (n, of) => `${n} of ${of} answered`,
  free: 'Buzz is open',
  holds: (name) => `${name} has it`,
  locked: (n) => `${teams(n)} locked out`,
  afterRound: (r) => `After round ${r.n} of ${r.of}`,
  final: 'Final ranking',
  showCode: 'Show the board of this game',
};
