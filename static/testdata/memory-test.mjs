// Checks of the practice page's memory, run in a browser by the Go test
// TestPracticeMemory; the failures are left in document.body.dataset.

import { forgetMissed, keepMissed, missed } from '../lib/missed.mjs';
import { answered, byFact, day, dueAt, model, next, nothing, overview, recall, restored, standing } from '../practice/memory.mjs';

const failures = [];
const ran = [];

function check(name, run) {
  ran.push(name);
  try { run(); } catch (problem) { failures.push(`${name}: ${problem.message}`); }
}

function same(got, want) {
  const [a, b] = [JSON.stringify(got), JSON.stringify(want)];
  if (a !== b) throw new Error(`got ${a}, want ${b}`);
}

function close(got, want) {
  if (Math.abs(got - want) > 1e-6 * Math.max(1, want)) throw new Error(`got ${got}, want ${want}`);
}

// dice that repeat: a linear congruential generator.
function seeded(seed) {
  return () => (seed = (seed * 1_664_525 + 1_013_904_223) % 4_294_967_296) / 4_294_967_296;
}

const fox = 'Vulpes vulpes|claws_show';

// The table that the hub's model is held to.
const table = (await (await fetch('/fsrs.csv')).text()).trim().split('\n').slice(1);

check('the model answers as the hub does', () => {
  if (table.length < 50) throw new Error(`only ${table.length} rows`);
  for (const row of table) {
    const [history, ...values] = row.split(',');
    const [stability, difficulty, days, recalled] = values.map(Number);
    let state;
    for (const [after, grade] of history.split(' ').map((answer) => answer.split(':').map(Number))) state = model.next_state(state, after, grade);
    close(state.stability, stability);
    close(state.difficulty, difficulty);
    close(model.forgetting_curve(days, state.stability), recalled);
    close(recall({ ...state, at: 0 }, days * day), recalled);
  }
});

check('nine of ten recall when a fact is due', () => {
  const known = answered(nothing, [fox], true, 0).facts[fox];
  close(recall(known, dueAt(known)), 0.9);
});

check('answered right whenever due, a fact comes after growing times, a year at most', () => {
  let memory = nothing;
  let now = 0;
  const waits = [];
  for (let n = 0; n < 6; n++) {
    memory = answered(memory, [fox], true, now);
    const due = dueAt(memory.facts[fox]);
    waits.push(Math.round((due - now) / day));
    now = due;
  }
  same(waits, [2, 11, 46, 163, 365, 365]);
});

check('a wrong answer shortens the stability and adds to the difficulty', () => {
  const knew = answered(answered(nothing, [fox], true, 0), [fox], true, 2 * day);
  const before = knew.facts[fox];
  const after = answered(knew, [fox], false, 13 * day).facts[fox];
  if (after.stability > before.stability / 4 || after.difficulty <= before.difficulty) throw new Error(JSON.stringify([before, after]));
});

check('right answers in a row within a minute do not count as days', () => {
  let memory = nothing;
  for (let n = 0; n < 20; n++) memory = answered(memory, [fox], true, n * 1000);
  const { stability } = memory.facts[fox];
  if (stability > 1.001 * answered(nothing, [fox], true, 0).facts[fox].stability) throw new Error(`a stability of ${stability} days`);
});

check('practice on the next day counts, an hour early too', () => {
  const missed = answered(nothing, [fox], false, 0);
  const sameDay = answered(missed, [fox], true, 2 * day / 24).facts[fox];
  const nextDay = answered(missed, [fox], true, 23 * day / 24).facts[fox];
  if (nextDay.stability < 2 * sameDay.stability) throw new Error(`${nextDay.stability} days against ${sameDay.stability}`);
});

check('no run of answers leads out of the bounds', () => {
  let memory = nothing;
  for (let n = 0; n < 50; n++) memory = answered(memory, [fox], false, n);
  same(restored(JSON.stringify(memory), 50), memory);
  for (let n = 0; n < 50; n++) memory = answered(memory, [fox], true, (n + 1) * 500 * day);
  same(restored(JSON.stringify(memory), 25_000 * day), memory);
  same(dueAt(memory.facts[fox]), (25_000 + 365) * day);
});

// Two animals, two questions on each, one fact a question.
const two = [
  { subject: 'track', facts: ['fox|claws'] }, { subject: 'track', facts: ['fox|toes'] },
  { subject: 'track', facts: ['hare|toes'] }, { subject: 'track', facts: ['hare|claws'] },
];
const index = byFact(two, ['track']);
const first = () => 0;
const animal = (i) => two[i].facts[0].split('|')[0];

check('the same fact is strengthened by different questions', () => {
  const shared = byFact([{ subject: 'track', facts: ['fox|claws', 'hare|claws'] }, { subject: 'scat', facts: ['fox|claws'] }], ['track', 'scat']);
  same([...shared], [['fox|claws', [0, 1]], ['hare|claws', [0]]]);
  const memory = answered(nothing, ['fox|claws', 'hare|claws'], true, 0);
  same(overview(memory, [...shared.keys()], 1), { due: 0, fresh: 0, resting: 2, nextAt: 2.3065 * day });
  const asked = (i) => [4, -1][i];
  same(next({ memory, index: shared, asked, now: 3 * day, dice: first }), 1);
});

check('subjects not chosen are left out', () => {
  same(byFact(two, ['scat']).size, 0);
});

check('new facts go round the animals', () => {
  let memory = nothing;
  const seen = [];
  for (let n = 0; n < 4; n++) {
    const i = next({ memory, index, asked: () => -1, now: n, dice: first });
    seen.push(animal(i));
    memory = answered(memory, two[i].facts, true, n);
  }
  same(seen, ['fox', 'hare', 'fox', 'hare']);
  same(next({ memory, index, asked: () => -1, now: 10, dice: first }), -1);
  same(next({ memory, index, asked: () => -1, now: 10, dice: first, ahead: true }) >= 0, true);
});

check('words of the trade take one turn among the animals', () => {
  const facts = [...two.flatMap((q) => q.facts), 'rack|term', 'pedicle|term', 'rosette|term'];
  const questions = facts.map((f) => ({ subject: 'track', facts: [f] }));
  const groupOf = (f) => (f.endsWith('|term') ? 'terms' : f.split('|')[0]);
  const seen = [];
  for (let n = 0, memory = nothing; n < 6; n++) {
    const i = next({ memory, index: byFact(questions, ['track']), asked: () => -1, now: n, groupOf, dice: first });
    seen.push(groupOf(facts[i]));
    memory = answered(memory, [facts[i]], true, n);
  }
  same(seen, ['fox', 'hare', 'terms', 'fox', 'hare', 'terms']);
});

// simulate has a student who always misses one animal practise for some days,
// twenty questions a day, and counts how often each animal is asked.
function simulate(days, missed, seed) {
  const animals = ['fox', 'hare', 'mink', 'otter', 'coyote', 'bobcat', 'badger', 'marten'];
  const questions = animals.flatMap((a) => ['toes', 'claws', 'pads', 'length'].map((t) => ({ subject: 'track', facts: [`${a}|${t}`] })));
  const facts = byFact(questions, ['track']);
  const dice = seeded(seed);
  const times = Object.fromEntries(animals.map((a) => [a, 0]));
  let memory = nothing;
  for (let d = 0; d < days; d++) {
    for (let n = 0; n < 20; n++) {
      const now = d * day + n * 20_000;
      const i = next({ memory, index: facts, asked: () => -1, now, dice });
      if (i < 0) break;
      const [fact] = questions[i].facts;
      const who = fact.split('|')[0];
      times[who]++;
      memory = answered(memory, [fact], who !== missed, now);
    }
  }
  return { times, memory, facts: [...facts.keys()] };
}

check('an animal that is missed is asked much more often', () => {
  const { times, memory, facts } = simulate(14, 'mink', 7);
  const { mink, ...others } = times;
  const most = Math.max(...Object.values(others));
  document.body.dataset.times = JSON.stringify(times);
  if (mink < 2 * most) throw new Error(`mink ${mink} times, another ${most}`);
  const lines = standing(memory, facts, (f) => f.split('|')[0], 14 * day);
  same([lines[0].name, lines[0].level], ['mink', 'weak']);
});

check('a missed fact comes back sooner than one known, within the sitting and over days', () => {
  const knew = answered(nothing, ['fox|claws'], true, 0);
  const missed = answered(knew, ['hare|toes'], false, 0);
  if (dueAt(missed.facts['hare|toes']) >= dueAt(missed.facts['fox|claws'])) throw new Error('not sooner');
  let memory = missed;
  for (let n = 0; n < 5; n++) memory = answered(memory, ['other|fact'], true, n);
  same(next({ memory, index, asked: () => -1, now: 10, dice: first }), 2);
});

check('what is stored comes back, and what is no memory does not', () => {
  const memory = answered(nothing, [fox], true, 5 * day);
  same(restored(JSON.stringify(memory), 6 * day), memory);
  for (const bad of [null, '', 'x', '[]', '{}', '{"answers":-1,"facts":{}}', '{"answers":1,"facts":3}', '{"answers":1,"facts":null}']) same(restored(bad, 0), nothing);
  const known = memory.facts[fox];
  const spoilt = { answers: 3, facts: { [fox]: { ...known, stability: 1e99 }, 'a|b': 4, 'a|c': { ...known, difficulty: '5' }, 'a|d': { ...known, half: 'x' }, plain: known } };
  same(restored(JSON.stringify(spoilt), 0), { answers: 3, facts: {} });
});

// As phones stored it until November 2026: a half-life in ms, due when it had passed.
const early = { answers: 9, facts: {
  'fox|claws': { half: 4 * day, at: 10 * day, ok: true, answers: 8 },
  'fox|toes': { half: day / 96, at: 11 * day, ok: false, answers: 2 },
  'hare|toes': { half: 365 * day, at: 3 * day, ok: true, answers: 1 },
  'hare|claws': { half: 1e99, at: 3 * day, ok: true, answers: 1 },
} };

check('what was learned by half-lives is carried over, due when it was', () => {
  const memory = restored(JSON.stringify(early), 12 * day);
  same(memory.answers, 9);
  same(Object.keys(memory.facts), ['fox|claws', 'fox|toes', 'hare|toes']);
  for (const [fact, known] of Object.entries(memory.facts)) {
    const { half, at, ok, answers } = early.facts[fact];
    close(dueAt(known) / day, (at + half) / day);
    same([known.at, known.ok, known.answers, 'half' in known], [at, ok, answers, false]);
  }
  if (memory.facts['fox|toes'].difficulty <= memory.facts['fox|claws'].difficulty) throw new Error('a missed fact is no more difficult');
  same(overview(memory, Object.keys(memory.facts), 12 * day), { due: 1, fresh: 0, resting: 2, nextAt: 14 * day });
  same(restored(JSON.stringify(memory), 12 * day), memory);
  if (answered(memory, ['fox|claws'], true, 14 * day).facts['fox|claws'].stability <= 4) throw new Error('it does not grow');
});

check('a clock set back does not hold a fact back', () => {
  const memory = answered(nothing, [fox], true, 400 * day);
  same(dueAt(restored(JSON.stringify(memory), 2 * day).facts[fox]), 4.3065 * day);
});

check('what was missed is kept of three games, each question once, until it is forgotten', () => {
  const question = (id) => ({ id, prompt: 'Whose?', options: ['fox', 'hare'] });
  const stored = () => Object.keys(localStorage).filter((key) => key.startsWith('fieldsign.missed'));
  ['one', 'two', 'three', 'one', 'four'].forEach((game, i) => keepMissed(game, question(i)));
  keepMissed('one', question(3));
  same(['one', 'two', 'three', 'four'].map((game) => missed(game).length), [2, 0, 1, 1]);
  forgetMissed();
  same(missed('one'), []);
  same(stored(), []);
});

document.body.dataset.failures = JSON.stringify(failures);
document.body.dataset.ran = ran.length;
