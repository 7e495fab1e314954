// Every word the pages show, in English. What the hub sends (prompts, options,
// reasons, messages) is English and comes as it is. The files of the other
// languages have the same keys, which a test asserts.

import { count, few, percent, subjects, teams } from './en-basics.mjs';

export * from './en-club.mjs';
export * from './en-keeping.mjs';
export * from './en-planning.mjs';
export * from './en-station.mjs';
export * from './en-tournament.mjs';

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
  kinds: { open: 'Open round', buzz: 'Buzz round' },
};

export const landing = {
  lead: 'Timed review rounds on the skulls, tracks and scat of wild animals.',
  codeLabel: 'Join code',
  codeHint: 'Two words and two digits, such as otter-burrow-42. The host shows it.',
  join: 'Join',
  noCode: 'Enter the join code that the host shows.',
  unreachable: 'The hub did not answer. Check that this device is on the same network, then try again.',
  host: 'Host a game',
  hostHint: 'Plan the rounds and run them. Needs the host key.',
  board: 'Show the board',
  boardHint: 'The shared screen, for a projector.',
  practice: 'Practise alone',
  practiceHint: 'Flash questions, spaced by how well you remember. No game, no name, no account.',
  caution: 'Practise with replicas and casts; wash hands; do not collect wildlife parts without the permits your local authority asks for.',
};

export const team = {
  chooseName: 'Name your team',
  nameLabel: 'Team name',
  nameHint: 'A nickname of up to 24 letters. No real names, please.',
  another: 'Another',
  join: 'Join',
  emptyName: 'Enter a name for the team.',
  joined: (name) => `You are in, ${name}.`,
  wait: 'The host starts the game when all teams are here.',
  here: (n) => `${teams(n)} here so far.`,
  typePrompt: 'Type your answer. The first one counts.',
  typeLabel: 'The animal',
  typeHint: 'Its usual or scientific name. A small slip in the spelling is forgiven.',
  send: 'Send',
  typed: (name) => `Your answer: ${name}`,
  pick: 'Tap your answer. The first one counts.',
  paused: 'The clock is stopped. Wait for the host.',
  sending: 'Sending…',
  sent: 'Answer sent',
  sentMore: (n, of) => `${n} of ${teams(of)} have answered.`,
  yours: 'your answer',
  buzz: 'Buzz',
  buzzHint: 'Buzz first, then answer.',
  buzzing: 'Buzz sent…',
  youHold: 'You have it: answer',
  holds: (name) => `${name} has it`,
  holdsMore: 'If they are wrong, the question is open again for the others.',
  locked: 'Locked out for this question',
  lockedMore: 'Others may still buzz.',
  verdicts: { right: 'Right', wrong: 'Not right', none: 'No answer from your team' },
  gained: (n) => (n < 0 ? `${points(-n)} taken` : `${points(n)} gained`),
  standing: (rank, score) => `Rank ${rank}, ${points(score)}`,
  afterRound: 'The round is over',
  over: 'The game is over',
  firstFive: 'First five',
  removedTitle: 'Removed by the host',
  removed: 'The host has taken this team out of the game. Ask the host, or join again under another name.',
  joinAgain: 'Join again',
  replacedTitle: 'Another device has taken over',
  replaced: 'Your team is playing on another device.',
  useThis: 'Play on this device',
};

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

export const practice = {
  title: 'Practise alone',
  lead: 'Flash questions. What you miss comes back soon, what you know comes back later.',
  kept: 'What you have learned is kept on this device alone. Nothing is sent to anyone.',
  notKept: 'This browser keeps nothing for this page: what you learn is forgotten when you close it. Opening the page in another browser may help.',
  offline: 'This page is kept on this device and opens without the hub.',
  roster: 'Roster',
  rosterIs: (name) => `Roster: ${name}`,
  noSubject: 'Choose at least one subject.',
  now: (due, fresh, resting) => `${count(due, 'fact', 'facts')} due, ${fresh} new, ${resting} resting.`,
  start: 'Start',
  ahead: 'Practise on before it is due',
  known: 'How well you remember',
  weakFirst: 'Weakest first',
  animal: 'Animal',
  facts: 'Facts met',
  due: 'Due',
  memory: 'Memory',
  factsOf: (n, of) => `${n} of ${of}`,
  levels: { weak: 'weak', fair: 'fair', strong: 'strong' },
  level: (word, span) => `${word}, ${span}`,
  levelHint: 'The time after which a fact is as likely forgotten as not, on average: weak below 2 days, strong from 8 days on.',
  terms: 'Words of the trade',
  noneYet: 'Nothing answered yet.',
  pick: 'Choose an answer: tap it, or press its letter.',
  sitting: (right, of) => `${right} of ${of} right so far`,
  yours: 'your answer',
  verdict: (right) => (right ? '✓ Right' : '✗ Not right'),
  again: (span) => `You will be asked about this again in ${span}.`,
  againSoon: 'You will be asked about this again soon.',
  next: 'Next',
  stop: 'Stop',
  done: 'Nothing is due now',
  doneMore: (span) => `The next fact is due in ${span}. Coming back then helps more than going on.`,
  span(ms) {
    const minutes = Math.max(1, Math.round(ms / 60_000));
    if (minutes < 90) return count(minutes, 'minute', 'minutes');
    if (minutes < 22 * 60) return count(Math.round(minutes / 60), 'hour', 'hours');
    return count(Math.round(minutes / 1440), 'day', 'days');
  },
  save: 'Save this page',
  saveHint: 'One file with the questions of this roster inside (about 2 MB). It opens in a browser without any network. It keeps what you learn apart from this page.',
  reset: 'Forget all I have learned',
  confirmReset: { title: 'Forget all you have learned?', text: 'Every fact of every roster counts as new again on this device. This cannot be taken back.', yes: 'Forget it all' },
  notHere: (name) => `The roster ${name} is not on this device, and the hub did not answer. Come back to the hub’s network and try again, or choose another roster.`,
  cannotLoad: 'The questions did not come',
  otherRoster: 'Take the usual roster',
};

export const host = {
  title: 'Host console',
  keyLabel: 'Host key',
  keyHint: 'The hub printed it when it started. It stays in this tab only.',
  useKey: 'Use this key',
  emptyKey: 'Enter the host key.',
  wrongKey: 'The hub does not know this key. Look at the line it printed when it started.',
  newGame: 'New game',
  newGameHint: 'The hub draws a join code.',
  oldGame: 'Game already running',
  openConsole: 'Open its console',
  cannotCreate: 'The hub did not start a game. Try again; if it goes on, look at its log.',
  present: 'Another console is hosting this game',
  presentMore: 'Only one console hosts at a time. If you take over, the other one is told so and stops.',
  takeOver: 'Take over',
  replaced: 'Another console has taken over',
  replacedMore: 'This console no longer hosts the game. Nothing you press here has any effect.',
  takeBack: 'Take it back',
  openBoard: 'Open the board',
  debrief: 'Debrief',
  results: 'Download results (CSV)',
  noResults: 'The hub did not send the results. Try again; if it goes on, look at its log.',
  joinAt: 'Teams join at',
  phases: { lobby: 'Lobby', asking: 'Question open', buzzed: 'Buzz held', revealed: 'Key revealed', break: 'Break', ended: 'Ended' },
  answered: (n, of) => `${n} of ${of} answered`,
  keyIs: (letter, text) => `Key: ${letter}, ${text.replace(/\.$/, '')}`,
  nextUp: 'Up next',
  controls: 'Controls',
  actions: {
    start: 'Start the game', next: 'Next question', leave: 'Next round', close: 'Stop the clock and reveal', pause: 'Pause', resume: 'Resume',
    skip: 'Skip', undo: 'Take back the verdict', right: 'Rule right', wrong: 'Rule wrong', end: 'End the game',
  },
  ruleFor: (name) => `${name} has it. Judge the spoken answer:`,
  shortcuts: 'Keyboard shortcuts',
  shortcutsOn: 'Use single keys as shortcuts',
  noTeams: 'No team has joined yet.',
  online: 'online',
  offline: 'offline',
  answeredOne: 'answered',
  waiting: 'waiting',
  lockedOne: 'locked out',
  rename: (name) => `Rename ${name}`,
  remove: (name) => `Remove ${name}`,
  renameShort: 'Rename',
  removeShort: 'Remove',
  newName: 'New name',
  save: 'Save',
  cancel: 'Cancel',
  confirm: {
    skip: { title: 'Skip this question?', text: 'It counts for nothing, whatever has been answered.', yes: 'Skip it' },
    end: { title: 'End the game now?', text: 'The ranking as it stands becomes final. This cannot be taken back.', yes: 'End the game' },
    remove: (name) => ({ title: `Remove ${name}?`, text: 'The team is told, its score goes, and its phones cannot come back as this team.', yes: 'Remove' }),
  },
  refused: 'Refused:',
  dismiss: 'Hide this message',
  plan: 'Plan',
  planTitle: 'Title',
  roster: 'Roster',
  seed: 'Seed',
  seedHint: 'The same roster, rounds and seed give the same questions. 0 draws one.',
  roundN: (n) => `Round ${n}`,
  roundName: 'Name',
  kind: 'Kind',
  subjects: 'Subjects',
  questions: 'Questions',
  secondsEach: 'Seconds each',
  pointsEach: 'Points',
  speed: 'Extra points for speed',
  typedRound: 'Names are typed, without options',
  speedMost: 'Most extra points',
  penalty: 'Penalty for a wrong answer',
  linkWait: 'Wait for slower phones (ms)',
  linkWaitHint: 'A buzz waits at most this long for presses still on their way. 0 gives it to the first to arrive.',
  difficulty: 'Difficulty',
  difficulties: ['Any', '1, easiest', '2', '3', '4', '5, hardest'],
  addRound: 'Add a round',
  removeRound: (n) => `Remove round ${n}`,
  savePlan: 'Save the plan',
  saved: 'Plan saved.',
  unsaved: 'Not saved yet.',
  noSubject: (n) => `Round ${n}: choose at least one subject.`,
  newRound: 'New round',
};

const decimal = (x) => (x === null ? '–' : x.toFixed(2).replace('-', '−'));
const seconds = (ms) => (ms === null ? '–' : `${(ms / 1000).toFixed(1)}\u00a0s`);

export const debrief = {
  title: 'Debrief',
  heading: (title) => `Debrief: ${title}`,
  where: (r) => `Game ${r.code}, ${r.date}. ${r.ended ? 'Ended.' : 'Not ended yet: the figures are as of now.'}`,
  codeLabel: 'Show its debrief',
  cannotRead: 'The hub did not send the debrief. Try again; if it goes on, look at its log.',
  toConsole: 'To the host console',
  save: 'Download results (CSV)',
  print: 'Print',
  reload: 'Bring it up to date',
  nothing: 'No question has been closed yet. Come back after the first one.',
  percent,
  decimal,
  seconds,
  interval: (s) => (s.of ? `${percent(s.low)} to ${percent(s.high)}` : '–'),
  outOf: (s) => `${s.right} of ${s.of}`,
  undefined: '– means that a figure is not defined: nobody was asked, or all did alike.',

  whole: 'The game as a whole',
  share: (s) => `${percent(s.p)} of all answers due were right: ${s.right} of ${s.of}.`,
  range: (s) => `If others like these teams had played, the share would likely lie between ${percent(s.low)} and ${percent(s.high)} (95\u00a0% Wilson interval).`,
  reliability: (t) => `Reliability (KR-20): ${decimal(t.kr20)}. Mean ${decimal(t.mean)} right of ${t.items}, standard deviation ${decimal(t.sd)}, standard error of measurement ${decimal(t.sem)}. Open and station rounds only.`,
  caution: 'Caution',

  heat: 'Who knew what',
  heatAlt: (teamCount, questions) => `Picture of ${teams(teamCount)} in rows and ${count(questions, 'question', 'questions')} in columns; the table below it says the same.`,
  marks: { right: 'right', wrong: 'wrong', none: 'no answer', '': 'not due' },
  asTable: 'The same as a table',
  heatCaption: 'Each team’s answers, by question',
  trimmed: 'With so many teams the answers are not shown one by one. They are all in the results (CSV).',
  timeline: 'When it was answered',
  timelineAlt: 'Picture of the game’s time from left to right, a line for each question; the times are in the table of questions.',
  timelineHint: 'Minutes and seconds from the first question’s opening. A line for each question, from its own. The bar spans the middle half of the answers, the stroke in it is the median.',
  clock: (ms) => `${Math.floor(ms / 60_000)}:${String(Math.round(ms / 1000) % 60).padStart(2, '0')}`,

  questions: 'Questions',
  questionsCaption: 'How hard each question was and how well it told teams apart',
  columns: { question: 'Question', right: 'Right (95 % interval)', discrimination: 'Discrimination', picks: 'Picks', time: 'Median time', note: 'Look at' },
  number: (q) => `${q.round + 1}.${q.number + 1}`,
  discriminationHint: 'Discrimination is the correlation of a right answer with the rest of the team’s right answers. Above 0.2 is usual for a good question; below 0 the better teams missed it.',
  statuses: { void: 'Void: counts for nothing', unclosed: 'Still open' },
  flags: {
    negative: 'The better teams missed it: check key and wording.',
    nobody: 'Nobody was right: check the key.',
    everybody: 'Everybody was right.',
  },
  spoken: (n) => `spoken: ${n}`,

  taken: 'What was taken for what',
  takenCaption: (subject, of) => `${common.subjects[subject] ?? subject}: ${of === 'traits' ? 'statements' : 'animals and terms'}`,
  takenColumns: { key: 'It was', taken: 'taken for', count: 'Times', of: 'of' },
  noneTaken: 'Nothing was taken for anything else.',
  more: (n) => `and ${count(n, 'rarer one', 'rarer ones')}, in the results (CSV)`,
  pairsCaption: 'Confused more often than guessing explains',
  pairColumns: { pair: 'Pair', share: 'Mixed up (95 % interval)', expected: 'By guessing' },
  pair: (p) => `${p.a} and ${p.b}`,
  noPairs: 'No two were mixed up more often than guessing explains.',

  teams: 'Teams',
  teamsCaption: 'What each team knows and what it should practise',
  teamColumns: { team: 'Team', right: 'Right (95 % interval)', strong: 'Strong', weak: 'Weak' },
  neither: 'too few answers to say',
  topicsCaption: 'Traits, the weakest first',
  topicColumns: { trait: 'Trait', questions: 'Questions', right: 'Right (95 % interval)' },

  next: 'The next game',
  nextHint: 'A new game with the same rounds: weak subjects, traits and animals are asked more often, and every third question compares a pair that was mixed up, while there are such pairs. You can still change the plan before the start.',
  plan: 'Plan the next game from this',
  cannotPlan: 'The hub did not plan a game. Try again; if it goes on, look at its log.',
};

export const photos = {
  title: 'Photos',
  lead: 'Photos of your own, shown in place of the drawing of the same animal and subject. They stay on this hub. All that a camera writes into the file, the place above all, is removed.',
  species: 'Animal',
  speciesHint: 'Its usual or scientific name, from the list.',
  subject: 'Subject',
  subjectHint: 'Take a print with its toes upwards and a scale beside it. Of a bird, choose front print. A photo with both prints serves for either.',
  kinds: { skull: 'Skull', 'front print': 'Front print', 'hind print': 'Hind print', track: 'Front and hind print', scat: 'Scat' },
  credit: 'Credit',
  creditHint: 'Who took it; “own photo” will do. No pupil’s name. Shown after the reveal.',
  file: 'File',
  fileHint: 'JPEG, PNG or WebP, at most 8 MiB.',
  add: 'Add the photo',
  adding: 'Adding…',
  added: (name, subject) => `Added: ${name}, ${subject.toLowerCase()}.`,
  noFile: 'Choose a file.',
  tooBig: 'This file has more than 8 MiB, the most that a photo may have. Save it smaller and choose it again.',
  none: 'No photo yet: all plates are drawings.',
  line: (name, subject, credit) => `${name}, ${subject.toLowerCase()}. Photo: ${credit}`,
  remove: 'Delete',
  removeOne: (line) => `Delete: ${line}`,
  confirm: (line) => ({ title: 'Delete this photo?', text: `${line}. The drawing is shown again.`, yes: 'Delete' }),
};

// Why the hub closed the door, by close code or code of refusal.
export const stops = {
  4100: 'No game has this join code. Check it with the host.',
  4102: 'The hub did not understand this page. Reload it.',
  4104: host.wrongKey,
  4105: 'The hub did not accept this name. Choose another one.',
  4106: 'The game is full. Ask the host.',
  4107: 'The hub no longer knows this device. Join again.',
  other: 'The hub closed the connection.',
};

// What a screen reader is told when the phase changes. Never the key.
export const announce = {
  lobby: 'Lobby. Waiting for the start.',
  asking: (q) => `Question ${q.n} is open.`,
  buzzed: (name) => `${name} has the buzz.`,
  revealed: 'The question is closed.',
  break: 'The round is over.',
  ended: 'The game is over.',
};

export const gallery = {
  title: 'gallery of screens',
  lead: 'Every screen in every state, drawn from canned states. Nothing here is sent anywhere.',
};

// Team names to suggest: a place or season of the trade, and an animal.
export const nicknames = {
  places: ['Marsh', 'Alder', 'Creek', 'Thicket', 'Winter', 'Ridge', 'Meadow', 'Pond', 'Birch', 'Moss', 'Fern', 'Canyon'],
  animals: ['Wrens', 'Voles', 'Otters', 'Martens', 'Badgers', 'Shrews', 'Herons', 'Hares', 'Lynxes', 'Beavers', 'Weasels', 'Owls'],
  name: (place, animal) => `${place} ${animal}`,
};

// The pages' titles are by the last class of their html element.
export const pages = {
  language: 'Language',
  titles: { 'bracket-page': 'Bracket', 'tournament-page': 'Tournament', fair: 'Fair teams', season: 'Season', 'season-board': 'Season board', trends: 'Trends', board: 'Board', debrief: 'Debrief', gallery: 'Gallery of screens', host: 'Host', practice: 'Practice', team: 'Team' },
};

// What the hub itself says to people.
export const hub = {
  refused: ({ message }) => message,
  notice: (state) => state.notice,
  caution: (test) => test.caution,
  title: (title) => title,
  plan: (plan) => plan,
};

// A species by its name in the reader's language, and the English one.
export const species = {
  both: (name, english) => (name.toLowerCase() === english.toLowerCase() ? name : `${name} (${english})`),
};
