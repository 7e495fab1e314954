// The words of the debrief, in English.

import { count, percent, subjects, teams } from './basics.mjs';

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
  takenCaption: (subject, of) => `${subjects[subject] ?? subject}: ${of === 'traits' ? 'statements' : 'animals and terms'}`,
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
