// How long a plan takes, as a range. It is an estimate for people: nothing is
// timed by it.

const early = 1 / 3; // of a question's time, where every team answers early
const talk = [10, 40]; // seconds for key, reason and a word about it
const pause = [30, 90]; // seconds between rounds
const answer = 10; // seconds to answer that a buzz brings with it

// most is how much longer than its time a question may stay open, by kind.
const beyond = { buzz: answer };

// spanOf is a round's least and most seconds. Stations are walked by the clock,
// and talked about afterwards.
function spanOf({ count, seconds, kind, station }) {
  if (!station) return [count * (seconds * early + talk[0]), count * (seconds + (beyond[kind] ?? 0) + talk[1])];
  const { stations, walk } = station;
  return talk.map((t) => stations * (seconds + walk) + count * stations * t);
}

// durationOf gives the least and the most minutes, or null where a figure is missing.
export function durationOf(rounds) {
  const between = rounds.length - 1;
  const sum = rounds.map(spanOf).reduce((a, b) => [a[0] + b[0], a[1] + b[1]], [between * pause[0], between * pause[1]]);
  if (!rounds.every(({ count, seconds }) => count > 0 && seconds > 0)) return null;
  return { least: Math.max(1, Math.floor(sum[0] / 60)), most: Math.ceil(sum[1] / 60) };
}
