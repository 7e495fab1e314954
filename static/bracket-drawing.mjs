// Draws a bracket as one picture that fills its place: where each match
// stands, the lines between them, and the names. Lengths are in rows, of which
// a match has two.

import { html } from './vendor/preact-htm.mjs';
import { common, tournament as words } from './words.mjs';

const nobody = -1;
const row = 30; // px of the picture
const gapAcross = 1.2; // between columns, for the lines
const apart = 2.9; // from one match to the next below
const heading = 1.5;
const nameShare = 0.36; // rows that a letter takes
const number = 1.15; // the cell with the match's number
const seed = 1.1;
const score = 1.9;
const widest = 17;
const loosest = 6;

// bracketOf collects the matches of the bracket, without those that nobody plays.
function bracketOf({ columns, bracket }) {
  const all = new Map(columns.flatMap((c) => c.matches).filter((m) => bracket > 0 && m.id >= bracket).map((m) => [m.id, m]));
  const idle = (m) => m.home.entrant === nobody || m.away.entrant === nobody;
  // A seat that is fed by a bye is fed by what feeds the bye.
  const source = (seat) => {
    const from = all.get(seat.from);
    if (!from || !idle(from)) return seat;
    if (seat.loser) return {};
    return source(from.home.entrant === nobody ? from.away : from.home);
  };
  const drawn = [...all.values()].filter((m) => !idle(m)).map((m) => ({ ...m, feeds: [source(m.home), source(m.away)] }));
  return new Map(drawn.map((m) => [m.id, m]));
}

const sectionOf = (part) => (part === 'losers' ? 'losers' : 'main');

// tree gives the matches of a section that lead to a root their heights, in
// the order of the seats; it returns the root's.
function tree(matches, id, at, next) {
  const m = matches.get(id);
  const heights = m.feeds
    .filter(({ from, loser }) => from && !loser && matches.has(from) && sectionOf(matches.get(from).part) === sectionOf(m.part))
    .map(({ from }) => tree(matches, from, at, next));
  const y = heights.length ? heights.reduce((sum, h) => sum + h, 0) / heights.length : next();
  at.set(id, y);
  return y;
}

// layOut gives each match its column and its middle's height.
export function layOut(cup) {
  const matches = bracketOf(cup);
  const list = [...matches.values()];
  const final = list.find((m) => m.part === 'final');
  const at = new Map();
  let line = 0;
  const next = () => line++ * apart + apart / 2;
  const heads = [];
  const double = list.some((m) => m.part === 'losers') || list.some((m) => m.part === 'reset');
  const columnOf = (parts) => {
    const keys = [...new Set(list.filter((m) => parts.includes(m.part)).map((m) => m.round + (m.part === 'final' ? 1000 : 0)))].sort((a, b) => a - b);
    return (m) => keys.indexOf(m.round + (m.part === 'final' ? 1000 : 0));
  };
  const column = new Map();
  const put = (parts) => {
    const of = columnOf(parts);
    list.filter((m) => parts.includes(m.part)).forEach((m) => column.set(m.id, of(m)));
  };
  if (!final) return { matches: list, at, column, heads, width: 0, height: 0 };

  if (!double) {
    put(['winners', 'final']);
    tree(matches, final.id, at, next);
  } else {
    put(['winners']);
    put(['losers']);
    const [up, down] = final.feeds.map(({ from }) => from);
    const highest = up ? tree(matches, up, at, next) : next();
    const below = line * apart + heading;
    const lower = new Map();
    line = 0;
    const lowest = down && matches.has(down) && matches.get(down).part === 'losers' ? below + tree(matches, down, lower, next) : highest + apart;
    lower.forEach((y, id) => at.set(id, y + below));
    if (lower.size) heads.push({ part: 'losers', y: below });
    line += below / apart;
    at.set(final.id, (highest + lowest) / 2);
    column.set(final.id, Math.max(...column.values(), -1) + 1);
    const reset = list.find((m) => m.part === 'reset');
    if (reset) {
      at.set(reset.id, at.get(final.id));
      column.set(reset.id, column.get(final.id) + 1);
    }
  }
  const third = list.find((m) => m.part === 'third');
  if (third) {
    at.set(third.id, at.get(final.id) + Math.max(apart * 1.4, Math.min(apart * 2, line)));
    column.set(third.id, column.get(final.id));
  }
  heads.unshift({ part: 'main', y: 0 });
  return {
    matches: list, at, column, heads, width: Math.max(...column.values()) + 1,
    height: Math.max(line * apart, ...[...at.values()].map((y) => y + apart / 2)),
  };
}

// fit finds how wide a column and how loose the lines are, so that the picture
// has the shape of its place.
function fit({ width, height }, longest, shape) {
  const least = Math.min(24, Math.max(7, longest)) * nameShare + number + seed + score;
  const high = height + heading;
  let across = least;
  let down = 1;
  const wide = () => width * (across + gapAcross) - gapAcross;
  if (wide() < high * shape) across = Math.min(widest, (high * shape + gapAcross) / width - gapAcross);
  else down = Math.min(loosest / apart, wide() / shape / high);
  return { across, down, wide: wide(), high: (height * down) + heading };
}

export function Bracket({ cup, shape = 1.9 }) {
  const plan = layOut(cup);
  if (plan.matches.length === 0) return null;
  const longest = Math.max(...cup.entrants.map((e) => e.name.length));
  const f = fit(plan, longest, shape);
  const x = (m) => plan.column.get(m.id) * (f.across + gapAcross) * row;
  const y = (m) => (heading + plan.at.get(m.id) * f.down) * row;
  const byID = new Map(plan.matches.map((m) => [m.id, m]));
  return html`
    <svg class="bracket" viewBox=${`-2 -2 ${f.wide * row + 4} ${f.high * row + 4}`} preserveAspectRatio="xMidYMin meet" aria-hidden="true">
      <${Heads} plan=${plan} f=${f} />
      ${plan.matches.map((m) => m.feeds.map(({ from, loser }) => {
        const feeder = byID.get(from);
        if (!feeder || loser || feeder.part === 'final') return null;
        const middle = x(m) - (gapAcross * row) / 2;
        return html`<path key=${`${m.id}-${from}`} class="lead" d=${`M${x(feeder) + f.across * row} ${y(feeder)} H${middle} V${y(m)} H${x(m)}`} />`;
      }))}
      ${plan.matches.map((m) => html`<${Box} key=${m.id} m=${m} cup=${cup} x=${x(m)} y=${y(m)} width=${f.across * row} />`)}
    </svg>`;
}

// Heads are the rounds' names over each section.
function Heads({ plan, f }) {
  const double = plan.matches.some((m) => m.part === 'losers');
  const seen = new Set();
  return plan.matches.map((m) => {
    const key = `${sectionOf(m.part)} ${plan.column.get(m.id)}`;
    if (m.part === 'third' || seen.has(key)) return null;
    seen.add(key);
    const head = plan.heads.find(({ part }) => part === sectionOf(m.part)) ?? plan.heads[0];
    const alone = m.part === 'final' || m.part === 'reset';
    const top = alone && double ? plan.at.get(m.id) * f.down - 1.6 : head.y * f.down - (head.y > 0 ? 0.4 : 0);
    const count = plan.matches.filter((o) => o.part === m.part && o.round === m.round).length;
    return html`<text key=${key} class="round" x=${plan.column.get(m.id) * (f.across + gapAcross) * row} y=${(top + 1) * row} font-size=${row * 0.62}
      ...${squeezed(words.round(m.part, m.round, count, double), f.across * row, row * 0.62)}>${words.round(m.part, m.round, count, double)}</text>`;
  });
}

// squeezed keeps a text that may be too long within its width.
function squeezed(text, width, size) {
  return text.length * size * 0.53 > width ? { textLength: width, lengthAdjust: 'spacingAndGlyphs' } : {};
}

function Box({ m, cup, x, y, width }) {
  const game = cup.games[m.id];
  const ready = cup.ready.includes(m.id);
  const kind = game ? 'playing' : m.result?.outcome ? 'done' : ready ? 'ready' : 'waiting';
  return html`
    <g class=${`match ${kind}`} transform=${`translate(${x} ${y - row})`}>
      <rect width=${width} height=${2 * row} class="box" />
      <path class="inner" d=${`M${number * row} 0 V${2 * row} M${number * row} ${row} H${width} M${width - score * row} 0 V${2 * row}`} />
      <text class="id" x=${(number * row) / 2} y=${row} font-size=${row * 0.52} dy="0.35em" text-anchor="middle">${m.id}</text>
      <${Side} m=${m} cup=${cup} seat=${m.home} feed=${m.feeds[0]} score=${m.result?.home} width=${width} top=${0} live=${game?.scores?.[0]} />
      <${Side} m=${m} cup=${cup} seat=${m.away} feed=${m.feeds[1]} score=${m.result?.away} width=${width} top=${row} live=${game?.scores?.[1]} />
      ${game && html`<text class="note" x=${number * row} y=${2.62 * row} font-size=${row * 0.55}>${words.playingAt(game.code)}</text>`}
      ${m.part === 'third' && html`<text class="round" x="0" y=${-0.35 * row} font-size=${row * 0.62}>${words.round('third')}</text>`}
    </g>`;
}

function Side({ m, cup, seat, feed, score: points, width, top, live }) {
  const known = seat.entrant > 0;
  const name = known ? cup.entrants[seat.entrant - 1].name : feed.from ? words.from(feed) : '';
  const won = m.result?.outcome && known && m.result.winner === seat.entrant;
  const out = m.result?.outcome && !won;
  const size = row * 0.66;
  const left = (number + 0.25 + (feed.seed ? seed : 0)) * row;
  const room = width - left - (score + 0.2) * row;
  const shown = m.result?.outcome === 'played' ? points ?? 0 : m.result?.outcome ? (won ? words.short[m.result.outcome] : '–') : live ?? '';
  return html`
    <g class=${won ? 'won' : out ? 'out' : known ? '' : 'open'}>
      ${feed.seed && html`<text class="seed" x=${(number + 0.2) * row} y=${top + row / 2} dy="0.35em" font-size=${row * 0.48}>${feed.seed}</text>`}
      <text x=${left} y=${top + row / 2} dy="0.35em" font-size=${size} ...${squeezed(won ? `${name} ✓` : name, room, size)}>${name}${won && ` ${common.right}`}</text>
      <text class="score" x=${width - 0.25 * row} y=${top + row / 2} dy="0.35em" font-size=${size} text-anchor="end">${shown}</text>
    </g>`;
}
