// Draws a bracket as one picture that fills its place. A match is two ruled
// lines as in a field notebook; a trail leads from it to the next, and its number
// is the marker on the trail. Lengths are in rows, of which a match has two.

import { html, useEffect, useRef } from '../vendor/preact-htm.mjs';
import { boardOf } from './way.mjs';
import { common } from '../words/common.mjs';
import { sheet } from '../words/sheet.mjs';
import { tournament as words } from '../words/tournament.mjs';

const nobody = -1;
const row = 30; // px of the picture
const gapAcross = 2.2; // between columns, for the trails and their markers
const apart = 2.8; // from one match to the next below
const heading = 1.5;
const overMatch = 1.4; // a round's name, over the middle of its highest match
const overHeads = overMatch + .8 - heading;
const nameShare = 0.41; // rows that a letter takes
const marker = 0.56; // the radius of one
const seed = 1.5; // behind a name
const score = 2.4;
const bar = 0.2; // beside the winner's line
const widest = 19;
const loosest = 6;
const tightest = 2.3;
const noteRoom = 2.7; // from match to match where a note fits below each
const [smallest, largest] = [0.66, 0.84]; // of a row, the letters

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

// tree gives the matches of a section that lead to a root their heights, in
// the order of the seats; it returns the root's.
function tree(matches, id, at, next) {
  const m = matches.get(id);
  const heights = m.feeds
    .filter(({ from, loser }) => from && !loser && matches.has(from) && (matches.get(from).part === 'losers') === (m.part === 'losers'))
    .map(({ from }) => tree(matches, from, at, next));
  const y = heights.length ? heights.reduce((sum, h) => sum + h, 0) / heights.length : next();
  at.set(id, y);
  return y;
}

// inColumns numbers the columns of some parts by round, without the rounds that
// nobody plays.
function inColumns(list, parts, column) {
  const key = (m) => parts.indexOf(m.part) * 100 + m.round;
  const of = list.filter((m) => parts.includes(m.part));
  const keys = [...new Set(of.map(key))].sort((a, b) => a - b);
  of.forEach((m) => column.set(m.id, keys.indexOf(key(m))));
}

// stack gives the heights of a tree's matches, from a height on; it returns the
// root's and where the tree ends.
function stack(matches, root, at, from) {
  let lines = 0;
  const own = new Map();
  const y = from + tree(matches, root, own, () => lines++ * apart + apart / 2);
  own.forEach((height, id) => at.set(id, from + height));
  return { y, end: from + lines * apart };
}

// layOut gives each match its column and its middle's height.
export function layOut(tournament) {
  const matches = bracketOf(tournament);
  const list = [...matches.values()];
  const final = list.find((m) => m.part === 'final');
  const at = new Map();
  const column = new Map();
  if (!final) return { matches: [], at, column, width: 0, height: 0 };
  let end;
  if (list.some((m) => m.part === 'losers')) {
    end = both(matches, list, final, at, column);
  } else {
    inColumns(list, ['winners', 'final'], column);
    end = stack(matches, final.id, at, 0).end;
  }
  const beside = (part, right, below) => {
    const m = list.find((o) => o.part === part);
    if (!m) return;
    at.set(m.id, at.get(final.id) + below);
    column.set(m.id, column.get(final.id) + right);
  };
  beside('reset', 0, apart * 1.45);
  beside('third', 0, apart * 1.45);
  return { matches: list, at, column, width: Math.max(...column.values()) + 1, height: Math.max(end, ...[...at.values()].map((y) => y + apart / 2)) };
}

// both stacks a double elimination: the main part, below it the second chance,
// and right of both the final.
function both(matches, list, final, at, column) {
  const [up, down] = final.feeds.map(({ from }) => from);
  inColumns(list, ['winners'], column);
  inColumns(list, ['losers'], column);
  column.set(final.id, Math.max(...column.values()) + 1);
  const upper = stack(matches, up, at, 0);
  const lower = stack(matches, down, at, upper.end + heading);
  at.set(final.id, (upper.y + lower.y) / 2);
  return lower.end;
}

// fit finds how wide a column, how loose the lines and how large the letters
// are, so that the picture has the shape of its place.
function fit({ width, height }, longest, shape) {
  const least = Math.min(24, Math.max(8, longest + 2)) * nameShare + seed + score;
  const wide = (across) => width * (across + gapAcross); // behind the last column is its marker
  const down = Math.min(loosest / apart, Math.max(tightest / apart, (wide(least) / shape - heading) / height));
  const high = height * down + heading;
  const across = Math.max(least, Math.min(widest, (high * shape) / width - gapAcross));
  return { across, down, wide: wide(across), high, letters: Math.min(largest, (smallest * across) / least) };
}

export function Bracket({ tournament, shape = 1.9 }) {
  const plan = layOut(tournament);
  if (plan.matches.length === 0) return null;
  const longest = Math.max(...tournament.entrants.map((e) => e.name.length));
  const f = fit(plan, longest, shape);
  const x = (m) => plan.column.get(m.id) * (f.across + gapAcross) * row;
  const y = (m) => (heading + plan.at.get(m.id) * f.down) * row;
  const byID = new Map(plan.matches.map((m) => [m.id, m]));
  const above = Math.max(0, Math.min(...plan.at.values()) * f.down - overHeads); // there is nothing
  return html`
    <svg class="bracket" viewBox=${`-2 ${above * row - 2} ${f.wide * row + 4} ${(f.high - above) * row + 4}`} preserveAspectRatio="xMidYMin meet" aria-hidden="true">
      <${Heads} plan=${plan} f=${f} />
      ${plan.matches.map((m) => m.feeds.map(({ from, loser }) => {
        const feeder = byID.get(from);
        if (!feeder || loser || feeder.part === 'final') return null;
        return html`<path key=${`${m.id}-${from}`} class="trail" d=${trail(x(feeder) + (f.across + 2 * marker + bar) * row, y(feeder), x(m), y(m))} />`;
      }))}
      ${plan.matches.map((m) => html`<${Entry} key=${m.id} m=${m} tournament=${tournament} x=${x(m)} y=${y(m)} width=${f.across * row} letters=${f.letters} noted=${f.down * apart >= noteRoom} />`)}
    </svg>`;
}

// Matches that stand below the final have their titles to themselves.
const below = ['third', 'reset'];
const title = (m) => (m.part === 'reset' && m.home.entrant > 0 ? sheet.secondFinal : sheet.round(m.part));

// Heads are the rounds' names, just over the highest match of their section.
function Heads({ plan, f }) {
  const double = plan.matches.some((m) => m.part === 'losers');
  const size = row * 0.62;
  const section = (m) => (m.part === 'winners' || m.part === 'losers' ? m.part : double ? 'end' : 'winners');
  const heads = new Map(); // by section and column
  plan.matches.filter((m) => !below.includes(m.part)).forEach((m) => {
    const key = `${section(m)} ${plan.column.get(m.id)}`;
    heads.set(key, [...(heads.get(key) ?? []), m]);
  });
  const highest = (name) => Math.min(...plan.matches.filter((m) => section(m) === name).map((m) => plan.at.get(m.id)));
  return [...heads].map(([key, [m, ...others]]) => {
    const text = sheet.round(m.part, m.round, others.length + 1, double);
    return html`<${Fitted} key=${key} class="round" x=${plan.column.get(m.id) * (f.across + gapAcross) * row} font-size=${size}
      y=${(heading + highest(section(m)) * f.down - overMatch) * row} text=${text} room=${f.across * row} />`;
  });
}

// Fitted is a text that is squeezed where it is longer than its room. How long
// it is depends on the device's fonts, so it is measured, and again when the
// pages' own faces have come.
function Fitted({ text, room, ...rest }) {
  const at = useRef(null);
  useEffect(() => {
    const fit = () => {
      at.current.removeAttribute('textLength');
      if (at.current.getComputedTextLength() > room) at.current.setAttribute('textLength', room);
    };
    fit();
    document.fonts?.addEventListener('loadingdone', fit);
    return () => document.fonts?.removeEventListener('loadingdone', fit);
  }, [text, room]);
  return html`<text ref=${at} lengthAdjust="spacingAndGlyphs" ...${rest}>${text}</text>`;
}

// trail runs level at both ends, as a path along a slope.
function trail(fromX, fromY, toX, toY) {
  const last = toX - 0.2 * row;
  const turn = last - (gapAcross / 2 - marker) * row;
  const bend = Math.max(turn, fromX);
  return `M${fromX} ${fromY} H${bend} C${last} ${fromY} ${bend} ${toY} ${last} ${toY}`;
}

function Entry({ m, tournament, x, y, width, letters, noted }) {
  const game = tournament.games[m.id];
  const ready = tournament.ready.includes(m.id);
  const kind = game ? 'playing' : m.result?.outcome ? 'done' : ready ? 'ready' : 'waiting';
  return html`
    <g class=${`match ${kind}`} transform=${`translate(${x} ${y - row})`}>
      <path class="ruled" d=${`M0 ${row} H${width} M0 ${2 * row} H${width}`} />
      <circle class="marker" cx=${width + (bar + marker) * row} cy=${row} r=${marker * row} />
      <text class="id" x=${width + (bar + marker) * row} y=${row} font-size=${row * 0.56} dy="0.35em" text-anchor="middle">${m.id}</text>
      <${Side} m=${m} tournament=${tournament} seat=${m.home} feed=${m.feeds[0]} score=${m.result?.home} width=${width} top=${0} live=${game?.scores?.[0]} letters=${letters} />
      <${Side} m=${m} tournament=${tournament} seat=${m.away} feed=${m.feeds[1]} score=${m.result?.away} width=${width} top=${row} live=${game?.scores?.[1]} letters=${letters} />
      ${noted && (game || ready) && html`<${Fitted} class="note" x="0" y=${2.62 * row} font-size=${row * 0.55} text=${noteOf(tournament, m, game)} room=${width} />`}
      ${below.includes(m.part) && html`<${Fitted} class="round" x="0" y=${-0.35 * row} font-size=${row * 0.62} text=${title(m)} room=${width} />`}
    </g>`;
}

// noteOf says where a match is played or called to.
function noteOf(tournament, m, game) {
  const board = boardOf(tournament, m.id);
  if (!game) return board > 0 && tournament.boards > 1 ? sheet.soonAt(board) : sheet.soon;
  return board > 0 ? sheet.playedAt(board, tournament.boards) : sheet.playingAt(game.code);
}

// scoreOf is what stands behind a name: a level match's winner has won one more question.
function scoreOf({ result }, points = 0, won, live = '') {
  if (!result?.outcome) return live;
  if (result.outcome !== 'played') return won ? words.short[result.outcome] : '–';
  return won && (result.home ?? 0) === (result.away ?? 0) ? `${points} ${sheet.plusOne}` : points;
}

function Side({ m, tournament, seat, feed, score: points, width, top, live, letters }) {
  const known = seat.entrant > 0;
  const name = known ? tournament.entrants[seat.entrant - 1].name : feed.from ? sheet.from(feed) : '';
  const won = m.result?.outcome && known && m.result.winner === seat.entrant;
  const out = m.result?.outcome && !won;
  const size = row * letters;
  const base = top + row / 2;
  const from = 0.35 * row;
  const room = width - from - (score + (feed.seed ? seed : 0)) * row;
  const shown = scoreOf(m, points, won, live);
  return html`
    <g class=${won ? 'won' : out ? 'out' : known ? '' : 'open'}>
      ${won && html`<rect class="bar" x="0" y=${top + 0.08 * row} width=${bar * row} height=${0.84 * row} />`}
      <${Fitted} x=${from} y=${base} dy="0.35em" font-size=${size} text=${won ? `${name} ${common.right}` : name} room=${room} />
      ${feed.seed && html`<text class="seed" x=${width - score * row} y=${base} dy="0.35em" font-size=${row * 0.52} text-anchor="end">(${feed.seed})</text>`}
      <text class="score" x=${width - 0.1 * row} y=${base} dy="0.35em" font-size=${size} text-anchor="end">${shown}</text>
    </g>`;
}
