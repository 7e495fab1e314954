// The words of planned questions and question sets, in English.

import { count, subjects } from './basics.mjs';

const about = (names) => names.map((s) => (subjects[s] ?? s).toLowerCase()).join(', ');

const listed = new Intl.ListFormat('en-GB'); // no comma before and
const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

export const recipes = {
  of: (asked) => sentence(listed.format(asked.map((s) => subjects[s].toLowerCase()))),
  title: 'What shall we play?',
  match: 'What this match asks',
  instead: 'Ask something else',
  titles: { mixed: 'Mixed review', exam: 'Practical exam', drawn: 'Drawings only', typed: 'Names typed', own: 'This plan', short: 'A short one', match: 'A match' },
  lines: {
    mixed: '8 questions for all, with options to tap; then 6 to buzz for.', exam: '8 stations with drawings or your replicas, by the clock.', drawn: '12 questions for all, each with a drawing.',
    typed: '10 questions without options, for the last week before a contest.', short: '5 questions for all, to begin or end with.', match: '10 questions to buzz for, as between two teams.',
  },
  own: (rounds) => `${count(rounds.length, 'round', 'rounds')} of its own: ${rounds.map((r) => r.name).join(', ')}.`,
  minutes: (least, most) => `${least} to ${count(most, 'minute', 'minutes')}.`,
  names: { buzz: 'First to buzz', exam: 'Stations', drawn: 'By their drawings', typed: 'Name it', short: 'Warm-up', match: 'First to buzz', another: 'New round' },
};

export const rosters = {
  title: 'Animals',
  counted: (name, n) => (n ? `${name} · ${n}` : name),
  see: (name) => `See who is in “${name}”`,
  web: 'Who eats whom among them, as a picture',
};

export const paper = {
  title: 'On paper',
  hint: 'PDFs of this game’s own questions, made by the hub. Print at 100 % and measure the check line.',
  of: 'Of which round',
  all: 'All rounds without stations',
  size: 'Paper',
  perPage: 'Plates to a page',
  perPageHint: 'Plates alone: prints and scat stay at life size, skulls and trails may be drawn smaller. What is too large for its share goes beside others of its size.',
  asManyAsFit: 'As many as fit at life size',
  kinds: { quiz: 'Quiz sheet', key: 'Key with reasons', cards: 'Station cards', sheets: 'A sheet for each team', scores: 'Score sheet', plates: 'Plates of all animals', guide: 'Study guide', page: 'Study guide as a web page', worksheet: 'Worksheet', answers: 'Key to the worksheet' },
  study: 'Study guide to the roster',
  studyHint: 'A page for each animal: drawings, measures with sources, what tells it from all others, look-alikes, cautions; then keys and a glossary. The web page opens without a network. All animals take some 300 pages.',
  made: 'It is among your downloads.',
};

export const rounds = {
  title: 'Rounds',
  line: ({ station, count: n, seconds, subjects: of, typed }, kind) =>
    [kind, station ? `${count(station.stations, 'station', 'stations')}, ${seconds} s at each` : `${count(n, 'question', 'questions')} · ${seconds} s`, typed && 'names typed', of.length < 3 && about(of)].filter(Boolean).join(' · '),
  change: 'Change',
  remove: 'Remove',
  points: 'Points and speed',
  drawings: 'Drawings',
  drawn: { none: 'None', some: 'Some', half: 'Half', all: 'All' },
};

export const planning = {
  duration: (least, most) => `About ${least} to ${count(most, 'minute', 'minutes')} in all.`,
  durationHint: 'A question takes a third of its time, if all answer early, to all of it, then 10 to 40 seconds for the reason and a word about it. Pauses between rounds are counted with half a minute to one and a half.',
  chosen: 'You have chosen these questions. Another subject, number or difficulty, other animals, another seed or language makes them anew.',
  lost: 'Saving gives up questions that you have chosen: their round was removed, or asks for others.',

  seedGuessable: 'Whoever has this program can try out every seed as small as this, and work out the questions from the first ones that they see. 0 draws one that nobody can.',

  more: 'More: title, season, seed',
  language: 'Language of the questions',
  languageHint: 'All phones and the board show the questions in it. On a phone set to another language the buttons and the animals’ names are in that one.',

  title: 'Questions',
  warning: 'The list shows every key. Is this screen on the projector, or in sight of a team? Then wait.',
  keysShown: 'Keys are on this screen. Keep it off the projector.',
  show: 'Show the questions and their keys',
  saveAndShow: 'Save the plan, then show its questions and keys',
  hide: 'Hide them',
  round: 'Round',
  roundOf: (n, name, questions) => `${n}: ${name} (${count(questions, 'question', 'questions')})`,
  roundAt: (n, name, stations) => `${n}: ${name} (${count(stations, 'station', 'stations')})`,
  hintStations: 'What you change here is kept at once. A question gives way to another about the same animal; the one that asks whose the specimen is gets other wrong answers.',
  hint: 'What you change here is kept at once. Alt with the arrow keys up and down moves the question in which the focus is.',
  question: (n) => `Question ${n}`,
  about: (subject, difficulty) => (difficulty ? `${subject}, difficulty ${difficulty}` : subject),
  typed: 'The name is typed, without options.',
  typedKey: (name) => `Key: ${name}`,
  noMemory: 'Only questions that rest on sources or on common practice, never on memory alone',
  rests: {
    published: 'Rests on published sources that were read.',
    secondary: 'Rests on sources that were read, some of them relaying others.',
    group: 'Rests on what a source says of the whole group of animals.',
    absence: 'Rests on a source that names who has it and is silent on the others.',
    'common practice': 'Rests on common practice of the trade, with no source found.',
    memory: 'Rests on memory: no source was read for a fact that decides it. Check it before you use it.',
  },
  photo: (credit) => `In the game your photo is shown in place of the drawing. Photo: ${credit}`,
  told: ({ round, question }) => `The reason of question ${question} in round ${round} tells what is asked here. Replace one of the two, or ask this one first.`,
  replace: 'Replace',
  strike: 'Strike',
  earlier: 'Earlier',
  later: 'Later',
  replaceOne: (n) => `Replace question ${n} by another`,
  strikeOne: (n) => `Strike question ${n}`,
  earlierOne: (n) => `Earlier: ask question ${n} before the one above it`,
  laterOne: (n) => `Later: ask question ${n} after the one below it`,
  replaced: (n) => `Question ${n} is another one now.`,
  struck: (n) => `Question ${n} is struck.`,
  moved: (n, to) => `Question ${n} is now question ${to}.`,

  sets: 'Question sets',
  setsHint: 'A set is a file with the questions of all rounds and how they are played. Load it into another game, or print it. It holds the keys.',
  setName: 'Name of the set',
  saveSet: 'Save as a set',
  setSaved: 'The set is in your downloads. Where the browser warns of a download over plain HTTP, choose to keep it.',
  setFile: 'Set file',
  setFileHint: 'A file that was saved here, of at most 4 MiB. Every question is checked again.',
  loadSet: 'Load this set',
  noFile: 'Choose a file.',
  tooBig: 'This file has more than 4 MiB, the most that a set may have.',
  confirmLoad: (name) => ({ title: 'Load this set?', text: `The plan of this game gives way to ${name}.`, yes: 'Load it' }),
  setLoaded: (title) => `Loaded: ${title}.`,
};
