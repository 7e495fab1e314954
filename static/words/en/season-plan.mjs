// The words of the season's plan, in English.

import { count, few, percent } from './basics.mjs';

const days = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
const date = new Intl.DateTimeFormat('en', { weekday: 'short', day: 'numeric', month: 'long', timeZone: 'UTC' });
const day = (iso) => date.format(new Date(iso));
const clock = new Intl.DateTimeFormat('en', { hour: 'numeric', minute: '2-digit', timeZone: 'UTC' });
const items = (n) => count(n, 'thing to learn', 'things to learn');
const meetings = (n) => count(n, 'meeting', 'meetings');

export const seasonPlan = {
  title: 'Season plan',
  heading: (season) => `Season plan: ${season}`,
  lead: 'Say when the contest is and when the club meets. Fieldsign plans what each meeting shows, and what it goes over again.',
  calendar: 'Download calendar (.ics)',
  print: 'Print',
  table: 'Season table',
  percent,
  range: ({ low, high }) => `${Math.round(100 * low)} to ${percent(high)}`,
  day,
  counted: (what, n) => `${what}: ${n}`,

  next: (iso) => `Next meeting: ${day(iso)}`,
  over: 'No meeting is left before the contest',
  length: (time, minutes) => `${clock.format(new Date(`1970-01-01T${time}Z`))}, ${minutes} minutes`,
  open: 'Open this meeting’s game',
  again: 'Go to its game',
  openHint: 'The game asks about everything below and counts in this season. Once it has ended, the rest of the season is planned anew.',
  fresh: 'New, to be shown first',
  freshHint: 'Show them on specimens of your own, or print plates from the game’s console.',
  review: 'To go over again',
  extra: 'If there is time',
  pairs: 'Look-alikes to tell apart',
  pair: (a, b, subject) => `${a} and ${b} (${subject.toLowerCase()})`,

  allFits: (n) => `All ${items(n)} are shown before the contest.`,
  left: (n, of) => `${n} of ${items(of)} can’t be shown before the contest`,
  takes: (seconds, n) => `Showing them takes ${Math.ceil(seconds / 60)} minutes more: ${meetings(n)} of the usual length. Or choose a smaller roster.`,
  leftOut: 'Left out',

  known: (iso) => `Likely known on ${day(iso)}`,
  nothingYet: 'Nothing has been played yet, so nothing is known of the club. After the first meeting’s game its answers are reckoned here.',
  all: 'Everything',
  doubt: 'The bars show the least known animals; the table has all. The bar is the share of the club’s answers that is likely right without guessing; the line across is its doubt, in which 19 of 20 such clubs would lie. It is reckoned from a model of memory and from this season’s debriefs, by the whole club and never by child. No club has been measured against it.',
  asTable: 'The same as a table',
  knownCaption: 'Likely known on the day of the contest',
  knownColumns: { what: 'What', p: 'Known', range: 'Doubt' },

  meetings: 'Meetings',
  meetingsCaption: 'All meetings up to the contest',
  columns: { date: 'Date', length: 'Time', state: 'State', about: 'What for', papers: 'Papers', game: 'Game' },
  papersHint: 'Each meeting to come has a quiz on its animals, the quiz’s key, and a study sheet of what is new, as PDF. The quiz asks other questions than the game.',
  paperSize: 'Paper size',
  papers: { quiz: 'Quiz', key: 'Key', study: 'Study sheet' },
  paperOf: (what, iso) => `${what}, ${day(iso)}`,
  states: { held: 'held', missed: 'not held', next: 'next', later: 'planned' },
  strip: { dark: 'new', mid: 'to go over again', light: 'for practice' },
  about: (a) => few.format([[a.new, 'new'], [a.review, 'to go over again'], [a.extra, 'for practice']].filter(([list]) => list.length > 0).map(([list, what]) => `${list.length} ${what}`)) || '–',
  shown: (right, of) => `${percent(right / of)} right (${right} of ${of})`,
  debrief: 'Debrief',

  wish: 'What is planned for',
  change: 'Change dates, animals or times',
  season: 'Name of the season',
  contest: 'Day of the contest',
  from: 'First day for a meeting',
  week: 'The club meets on',
  weekdays: days,
  timeOn: (d) => `${days[d]}, begins at`,
  minutesOn: (d) => `${days[d]}, minutes`,
  off: 'Days without a meeting',
  offFrom: (n) => `${n}. No meeting from`,
  offTo: (n) => `${n}. to, both included`,
  offMore: 'Add days without a meeting',
  offLess: (n) => `Take ${n} away`,
  roster: 'Animals',
  newSeconds: 'Seconds to show an animal’s skull, track or scat',
  reviewSeconds: 'Seconds to ask again',
  double: (n) => (n ? `Animals that count double: ${n}` : 'Animals that count double'),
  make: 'Plan the season',
  planAnew: 'Plan anew',
};
