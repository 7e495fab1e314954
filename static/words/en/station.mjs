// The words of station rounds, and of rounds about to begin, in English.

import { count } from './basics.mjs';

export const station = {
  kind: 'Station round',
  phases: { walk: 'Walking', station: 'At the stations', marked: 'Marked' },
  rotation: (r) => `Rotation ${r.turn} of ${r.of}`,
  at: (n) => `Station ${n}`,
  clock: (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`,
  specimen: (animal, subject) => `${animal}, ${subject}`,
  voided: 'Counts for nothing',

  // the phone
  goTo: 'Go to',
  startAt: 'Your start station is',
  startMore: 'The host begins when every team is in its place.',
  locked: (n) => `The signal has come. What you answered at station ${n} is locked.`,
  change: 'Tap an answer. Until the signal you may change it; the last one counts.',
  replica: 'The specimen lies at the station. Look at it there.',
  filled: (n, of) => `${n} of ${of} answered`,
  saving: 'Sending…',
  yours: 'your answer',
  over: 'The round is over',
  result: (right, of) => `${right} of ${of} right`,
  unanswered: 'no answer',

  // the board
  find: 'Find your start stations',
  work: 'At the stations',
  walk: 'Stop. Walk to the next station',
  empty: 'nobody',
  more: (n) => `and ${n} more`,
  soundOn: 'Sound: on',
  soundOff: 'Sound: off',
  marked: 'What lay at the stations',

  // the console
  begin: 'Begin the first rotation',
  beginNow: 'Begin the next rotation now',
  signalNow: 'Give the signal now',
  longer: '30 s more',
  shorter: '30 s less',
  mark: 'End the round and mark it',
  confirmMark: { title: 'End the round now?', text: 'No team moves on. What has been answered so far is marked, and the keys are shown.', yes: 'End and mark' },
  leave: 'Go on',
  own: 'your replica',
  stations: 'Stations',
  keyOf: (n) => `Key of question ${n}`,
  correctHint: 'A wrong label or a broken specimen? Choose another key, or let the question count for nothing. Points follow.',
  keysHint: 'Animals and keys are hidden here, as a projector may show this screen.',
  showKeys: 'Show animals and keys',
  hideKeys: 'Hide animals and keys',
  doing: (n, filled, each) => `at station ${n}, ${filled} of ${each} answered`,
  walking: (n) => `to station ${n}`,

  // the plan
  count: 'Stations',
  each: 'Questions at each',
  seconds: 'Seconds at each',
  walkSeconds: 'Seconds to walk',
  replicas: 'Your own replicas',
  replicasHint: 'Nothing is shown on phones for these stations: lay the replica out and say here which animal it is of. All other stations show a drawing, or your photo.',
  replicaAt: 'Station',
  animal: 'Animal',
  subject: 'Subject',
  subjects: { skull: 'Skull', track: 'Track', scat: 'Scat', sign: 'Sign' },
  addReplica: 'Add a replica',
  removeReplica: (n) => `Remove the replica at station ${n}`,
  newRound: 'Stations',
};

// Of a round that is about to begin. Ten seconds are those of game/buzz.go.
export const ready = {
  title: (n) => `Round ${n}: ready?`,
  rule: ({ kind, typed }) => (kind === 'buzz' ? `Buzz first, then ${typed ? 'type' : 'tap'} the answer within 10 seconds. If it is wrong, the others may buzz.`
    : `Every team ${typed ? 'types' : 'taps'} its answer. A team's first one stands.`),
  points: (r) => [`${count(r.points, 'point', 'points')} for a right answer`, r.speed && `up to ${r.speed} more for a fast one`, r.penalty && `${r.penalty} taken for a wrong one`].filter(Boolean).join(', '),
};
