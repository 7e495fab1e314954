// The words that every page has, in English.

import { count, few, subjects, teams } from './basics.mjs';

const between = (names) => (names.length > 4 ? teams(names.length) : few.format(names));
const points = (n) => count(n, 'point', 'points');

export const common = {
  name: 'Fieldsign',
  letters: 'ABCDE',
  right: '✓',
  wrong: '✗',
  key: 'the key',
  teams,
  points,
  picks: (n) => `picked by ${n}`,
  round: (r) => `Round ${r.n} of ${r.of}: ${r.name}`,
  question: (q, r) => `Question ${q.n} of ${r.questions}`,
  seconds: (n) => `${n} s`,
  photoBy: (credit) => `Photo: ${credit}`,
  timeUp: 'Time is up',
  timeLeft: 'Time left',
  reason: 'Reason',
  skipped: 'This question was skipped. It counts for nothing.',
  undone: 'The host took this verdict back.',
  drawn: (names) => `Too close to tell apart, so the buzz was drawn by lot between ${between(names)}.`,
  rank: 'Rank',
  team: 'Team',
  score: 'Score',
  rightAnswers: 'Right',
  tieRule: 'Equal scores: more right answers rank first, then less time spent on them; otherwise the rank is shared.',
  paused: 'Paused',
  lost: 'Connection lost. Coming back by itself…',
  connecting: 'Connecting…',
  tryAgain: 'Try again',
  toStart: 'To the start page',
  subjects,
  kinds: { open: 'Round for all', buzz: 'Buzz round' },
  restarting: 'The hub is restarting. This page comes back by itself; nothing is lost.',
  later: 'Too many wrong tries from this network. This page tries again in a moment.',
  newName: 'New name',
  cancel: 'Cancel',
  noResults: 'The hub did not send the results. Try again; if it goes on, look at its log.',
  refusedWith: (status) => `The hub refused (${status}). Try again; if it goes on, look at its log.`,
  subjectsLabel: 'Subjects',
};

// Of a reveal.
export const lesson = {
  times: (n) => `Drawn ${n} times as large.`,
  schematic: 'Schematic.',
  gait: 'Straddle: how wide the trail is. Stride: from a print to the next of the same foot.',
  oneScale: 'Both on one scale.',
  recalled: 'This rests on memory, not on a source: check it.',
  yours: 'your answer',
  enlarge: 'Enlarge',
  smaller: 'Close',
};

export const joining = {
  codeLabel: 'Join code',
  codeHint: 'Two words and two digits, such as otter-burrow-42. The host shows it.',
  join: 'Join',
  noCode: 'Enter the join code that the host shows.',
  unreachable: 'The hub did not answer. Check that this device is on the same network, then try again.',
};

// Why the hub closed the door, by close code or code of refusal.
export const stops = {
  4100: 'No game has this join code. Check it with the host.',
  4102: 'The hub did not understand this page. Reload it.',
  4104: 'The hub does not know this key. A hub that was started again has a new one: go on in the page that it opened, or at the address that it shows in its window.',
  4107: 'The hub no longer knows this device. Join again.',
  other: 'The hub closed the connection.',
};

// What a screen reader is told when the phase changes. Never the key.
export const announce = {
  lobby: 'Lobby. Waiting for the start.',
  ready: 'A round is about to begin.',
  asking: (q) => `Question ${q.n} is open.`,
  buzzed: (name) => `${name} has the buzz.`,
  revealed: 'The question is closed.',
  break: 'The round is over.',
  ended: 'The game is over.',
  walk: ({ turn }) => (turn === 0 ? 'Go to your start station.' : 'The signal: walk to the next station.'),
  station: (r) => `Rotation ${r.turn} of ${r.of} has begun.`,
  marked: () => 'The round is over and marked.',
};

// The pages' titles are by the last class of their html element.
export const pages = {
  language: 'Language',
  titles: { 'tournament-public': 'Tournament', 'tournament-page': 'Tournament', fair: 'Fair teams', season: 'Season', 'season-plan': 'Season plan', 'season-board': 'Season board', trends: 'Trends', board: 'Board', debrief: 'Debrief', gallery: 'Gallery of screens', host: 'Host', practice: 'Practice', team: 'Team' },
};

// What the hub itself says to people.
// refusals would be by the hub's code; what the hub says is in English.
export const refusals = {};

export const hub = {
  refused: ({ message }) => message,
  notice: (state) => state.notice,
  caution: ({ caution }) => caution,
  title: (title) => title,
  plan: (plan) => plan,
};

// A species by its name in the reader's language, and the English one.
export const species = {
  both: (name, english) => (name.toLowerCase() === english.toLowerCase() ? name : `${name} (${english})`),
};
