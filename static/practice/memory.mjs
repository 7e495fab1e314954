// How well each fact is remembered, and what to ask next. Pure: the clock and
// the dice are handed in.
//
// The model is FSRS-6, by the library ts-fsrs with its default weights. A fact
// has a stability, the days after which nine of ten such facts are recalled, and
// a difficulty from 1 to 10. It is due when its stability has passed. A right
// answer counts as the grade Good, a wrong one as Again. The time between two
// answers counts in whole days, as it does for the library's scheduler; so
// cramming on one day adds little.
//
// A memory is {answers, facts}; facts has, by 'species|trait', {stability,
// difficulty, at, ok, answers}: at is the time of the last answer in ms, ok
// whether it was right, answers which answer of all it was.

import { FSRSAlgorithm, Rating } from '../vendor/ts-fsrs.mjs';

export const day = 86_400_000;
const longest = 365; // days that a fact rests at most
const rest = 5; // other answers before a missed fact is asked again
const weakBelow = 3; // days: one right answer makes 2.3
const strongFrom = 30;

export const model = new FSRSAlgorithm();

export const nothing = { answers: 0, facts: {} };

// recall is the chance that a fact is recalled now.
export function recall(known, now) {
  return model.forgetting_curve(Math.max(now - known.at, 0) / day, known.stability);
}

const gradeOf = (right) => (right ? Rating.Good : Rating.Again);

// answered is the memory after an answer to a question on some facts.
export function answered(memory, facts, right, now) {
  const changed = {};
  for (const fact of facts) {
    const known = memory.facts[fact];
    const days = known ? Math.round(Math.max(now - known.at, 0) / day) : 0;
    changed[fact] = { ...model.next_state(known, days, gradeOf(right)), at: now, ok: right, answers: memory.answers };
  }
  return { answers: memory.answers + 1, facts: { ...memory.facts, ...changed } };
}

// dueAt is when a fact is to be asked again.
export function dueAt(known) {
  return known.at + Math.min(known.stability, longest) * day;
}

function isDue(memory, known, now) {
  return dueAt(known) <= now || (!known.ok && memory.answers - known.answers > rest);
}

// byFact tells which questions on the subjects, by number, rest on each fact.
export function byFact(questions, subjects) {
  const index = new Map();
  questions.forEach(({ subject, facts }, i) => {
    for (const fact of subjects.includes(subject) ? facts : []) index.set(fact, [...(index.get(fact) ?? []), i]);
  });
  return index;
}

export function speciesOf(fact) {
  return fact.slice(0, fact.lastIndexOf('|'));
}

// least finds what measures least; the dice choose among equals.
function least(list, measure, dice) {
  let best = [];
  let lowest = Infinity;
  for (const item of list) {
    const m = measure(item);
    if (m < lowest) [best, lowest] = [[], m];
    if (m === lowest) best.push(item);
  }
  return best[Math.floor(dice() * best.length)];
}

// next is the number of the question to ask, or -1: first one on a missed or
// forgotten fact, then one on an unasked fact of the group (an animal, or the
// words of the trade) least asked about, then what was missed a moment ago; with
// ahead also what is not yet due. asked(i) tells when question i was last asked,
// so that others on the same fact come first.
export function next({ memory, index, asked, now, groupOf = speciesOf, dice = Math.random, ahead = false }) {
  const facts = [...index.keys()];
  const met = facts.filter((f) => memory.facts[f]);
  const strength = (f) => (memory.facts[f].ok ? recall(memory.facts[f], now) : -1);
  const fact = least(met.filter((f) => isDue(memory, memory.facts[f], now)), strength, dice)
    ?? freshFact(facts, memory, groupOf, dice)
    ?? least(met.filter((f) => ahead || !memory.facts[f].ok), strength, dice);
  return fact === undefined ? -1 : least(index.get(fact), asked, dice);
}

function freshFact(facts, memory, groupOf, dice) {
  const times = new Map();
  for (const f of facts) if (memory.facts[f]) times.set(groupOf(f), (times.get(groupOf(f)) ?? 0) + 1);
  return least(facts.filter((f) => !memory.facts[f]), (f) => times.get(groupOf(f)) ?? 0, dice);
}

// overview counts what is due, new and resting, and when the next is due.
export function overview(memory, facts, now) {
  const count = { due: 0, fresh: 0, resting: 0, nextAt: Infinity };
  for (const f of facts) {
    const known = memory.facts[f];
    if (!known) count.fresh++;
    else if (!known.ok || isDue(memory, known, now)) count.due++;
    else {
      count.resting++;
      count.nextAt = Math.min(count.nextAt, dueAt(known));
    }
  }
  return count;
}

// standing has a line for each group of facts (an animal) that was asked about,
// the weakest first. span is the geometric mean of its facts' stabilities, in ms.
export function standing(memory, facts, groupOf, now) {
  const groups = new Map();
  for (const f of facts) {
    const name = groupOf(f);
    if (!groups.has(name)) groups.set(name, { name, facts: 0, asked: 0, due: 0, logs: 0 });
    const g = groups.get(name);
    const known = memory.facts[f];
    g.facts++;
    if (!known) continue;
    g.asked++;
    g.logs += Math.log(known.stability);
    if (!known.ok || isDue(memory, known, now)) g.due++;
  }
  return [...groups.values()].filter((g) => g.asked > 0).map(({ logs, ...g }) => {
    const days = Math.exp(logs / g.asked);
    return { ...g, span: days * day, level: days < weakBelow ? 'weak' : days < strongFrom ? 'fair' : 'strong' };
  }).sort((a, b) => a.span - b.span || b.due - a.due || a.name.localeCompare(b.name));
}

// restored takes a memory as it was stored, leaving out what is no memory, and
// what a clock set back since puts into the future.
export function restored(text, now) {
  let stored;
  try { stored = JSON.parse(text); } catch { return nothing; }
  if (!stored?.facts || typeof stored.facts !== 'object' || !Number.isSafeInteger(stored.answers) || stored.answers < 0) return nothing;
  const facts = {};
  for (const [fact, kept] of Object.entries(stored.facts)) {
    const known = kept?.half === undefined ? kept : carriedOver(kept);
    if (fact.includes('|') && isSound(known)) facts[fact] = { ...known, at: Math.min(known.at, now) };
  }
  return { answers: stored.answers, facts };
}

// carriedOver is a fact as it was stored up to November 2026: due after half, in
// ms. It stays due then, and is as difficult as after one such answer.
function carriedOver({ half, ...known }) {
  return { ...known, stability: half / day, difficulty: model.init_difficulty(gradeOf(known.ok)) };
}

const isWithin = (value, least, most) => typeof value === 'number' && value >= least && value <= most;

function isSound(known) {
  return isWithin(known?.stability, 0.001, 36_500) && isWithin(known.difficulty, 1, 10)
    && Number.isFinite(known.at) && typeof known.ok === 'boolean' && Number.isSafeInteger(known.answers);
}
