// How well each fact is remembered, and what to ask next. Pure: the clock and
// the dice are handed in.
//
// The curve is that of half-life regression (Settles and Meeder 2016): after a
// time d, a fact with half-life h is remembered with probability 2^(-d/h). The
// half-life follows the simplest rule: a right answer that comes when the fact
// is due doubles it, an earlier one adds the time that passed; a wrong one
// halves it. A fact is due once it is as likely forgotten as not.
//
// A memory is {answers, facts}; facts has, by 'species|trait', {half, at, ok,
// answers}: the half-life and the time of the last answer in ms, whether it was
// right, and which answer of all it was.

export const day = 86_400_000;
const unasked = day / 2;
const shortest = day / 96;
const longest = 365 * day;
const rest = 5; // other answers before a missed fact is asked again
const weakBelow = 2 * day;
const strongFrom = 8 * day;

export const nothing = { answers: 0, facts: {} };

export function recall(elapsed, half) {
  return 2 ** (-elapsed / half);
}

// answered is the memory after an answer to a question on some facts.
export function answered(memory, facts, right, now) {
  const changed = {};
  for (const fact of facts) {
    const known = memory.facts[fact];
    const half = known?.half ?? unasked;
    const earned = known ? Math.min(Math.max(now - known.at, 0), half) : half;
    const next = right ? half + earned : half / 2;
    changed[fact] = { half: Math.min(Math.max(next, shortest), longest), at: now, ok: right, answers: memory.answers };
  }
  return { answers: memory.answers + 1, facts: { ...memory.facts, ...changed } };
}

// dueAt is when a fact is as likely forgotten as not.
export function dueAt(known) {
  return known.at + known.half;
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
// forgotten fact, then one on an unasked fact of the animal least asked about,
// then what was missed a moment ago; with ahead also what is not yet due.
// asked(i) tells when question i was last asked, so that others on the same
// fact come first.
export function next({ memory, index, asked, now, dice = Math.random, ahead = false }) {
  const facts = [...index.keys()];
  const met = facts.filter((f) => memory.facts[f]);
  const strength = (f) => (memory.facts[f].ok ? recall(now - memory.facts[f].at, memory.facts[f].half) : -1);
  const fact = least(met.filter((f) => isDue(memory, memory.facts[f], now)), strength, dice)
    ?? freshFact(facts, memory, dice)
    ?? least(met.filter((f) => ahead || !memory.facts[f].ok), strength, dice);
  return fact === undefined ? -1 : least(index.get(fact), asked, dice);
}

function freshFact(facts, memory, dice) {
  const times = new Map();
  for (const f of facts) if (memory.facts[f]) times.set(speciesOf(f), (times.get(speciesOf(f)) ?? 0) + 1);
  return least(facts.filter((f) => !memory.facts[f]), (f) => times.get(speciesOf(f)) ?? 0, dice);
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
// the weakest first. half is the geometric mean of its facts' half-lives.
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
    g.logs += Math.log2(known.half);
    if (!known.ok || isDue(memory, known, now)) g.due++;
  }
  return [...groups.values()].filter((g) => g.asked > 0).map(({ logs, ...g }) => {
    const half = 2 ** (logs / g.asked);
    return { ...g, half, level: half < weakBelow ? 'weak' : half < strongFrom ? 'fair' : 'strong' };
  }).sort((a, b) => a.half - b.half || b.due - a.due || a.name.localeCompare(b.name));
}

// restored takes a memory as it was stored, leaving out what is no memory, and
// what a clock set back since puts into the future.
export function restored(text, now) {
  let stored;
  try { stored = JSON.parse(text); } catch { return nothing; }
  if (!stored?.facts || typeof stored.facts !== 'object' || !Number.isSafeInteger(stored.answers) || stored.answers < 0) return nothing;
  const facts = {};
  for (const [fact, known] of Object.entries(stored.facts)) {
    const sound = fact.includes('|') && known?.half >= shortest && known.half <= longest
      && Number.isFinite(known.at) && typeof known.ok === 'boolean' && Number.isSafeInteger(known.answers);
    if (sound) facts[fact] = { ...known, at: Math.min(known.at, now) };
  }
  return { answers: stored.answers, facts };
}
