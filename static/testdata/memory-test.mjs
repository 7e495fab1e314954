// Checks of the practice page's memory, run in a browser by the Go test
// TestPracticeMemory; the failures are left in document.body.dataset.

import { answered, byFact, day, dueAt, next, nothing, overview, recall, restored, standing } from '../practice/memory.mjs';

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
  if (Math.abs(got - want) > 5e-7) throw new Error(`got ${got}, want ${want}`);
}

// dice that repeat: a linear congruential generator.
function seeded(seed) {
  return () => (seed = (seed * 1_664_525 + 1_013_904_223) % 4_294_967_296) / 4_294_967_296;
}

const fox = 'Vulpes vulpes|claws_show';

check('the curve has the published values', () => {
  close(recall(7 * day, 7 * day), 0.5);
  close(recall(3 * day, 7 * day), 0.742997);
  close(recall(2 * day, day), 0.25);
});

check('answered right whenever due, a fact comes after 1, 2, 4, 8 and 16 days', () => {
  let memory = nothing;
  let now = 0;
  const waits = [];
  for (let n = 0; n < 5; n++) {
    memory = answered(memory, [fox], true, now);
    const due = dueAt(memory.facts[fox]);
    waits.push((due - now) / day);
    now = due;
  }
  same(waits, [1, 2, 4, 8, 16]);
});

check('a wrong answer halves the half-life', () => {
  const knew = answered(answered(nothing, [fox], true, 0), [fox], true, day);
  same(answered(knew, [fox], false, 3 * day).facts[fox].half, day);
  same(answered(nothing, [fox], false, 0).facts[fox].half, day / 4);
});

check('right answers in a row within a minute do not count as days', () => {
  let memory = nothing;
  for (let n = 0; n < 20; n++) memory = answered(memory, [fox], true, n * 1000);
  if (memory.facts[fox].half > 1.001 * day) throw new Error(`a half-life of ${memory.facts[fox].half / day} days`);
});

check('the half-life stays within its bounds', () => {
  let memory = nothing;
  for (let n = 0; n < 50; n++) memory = answered(memory, [fox], false, n);
  same(memory.facts[fox].half, day / 96);
  for (let n = 0; n < 50; n++) memory = answered(memory, [fox], true, (n + 1) * 500 * day);
  same(memory.facts[fox].half, 365 * day);
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
  same(overview(memory, [...shared.keys()], 1), { due: 0, fresh: 0, resting: 2, nextAt: day });
  const asked = (i) => [4, -1][i];
  same(next({ memory, index: shared, asked, now: 2 * day, dice: first }), 1);
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
  const spoilt = { answers: 3, facts: { [fox]: { ...memory.facts[fox], half: 1e99 }, 'a|b': 4, plain: memory.facts[fox] } };
  same(restored(JSON.stringify(spoilt), 0), { answers: 3, facts: {} });
});

check('a clock set back does not hold a fact back', () => {
  const memory = answered(nothing, [fox], true, 400 * day);
  same(dueAt(restored(JSON.stringify(memory), 2 * day).facts[fox]), 3 * day);
});

document.body.dataset.failures = JSON.stringify(failures);
document.body.dataset.ran = ran.length;
