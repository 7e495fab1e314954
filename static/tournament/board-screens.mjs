// What the public page shows of a tournament: made for a projector, and for paper.

import { html } from '../vendor/preact-htm.mjs';
import { Bracket } from './bracket.mjs';
import { Fixtures, Tables, crosses, sizeOf } from './tables.mjs';
import { Heading, Message } from '../parts/parts.mjs';
import { tournament as words } from '../words/tournament.mjs';

// CupScreen: clock is the time for people, as the estimate counts from it.
export function CupScreen({ cup, clock = Date.now(), lost = false }) {
  const bracket = cup.bracket > 0;
  const pooled = cup.tables.some((t) => t.part !== 'winners');
  return html`
    <header class="strip">
      <${Heading}>${cup.name || words.title}<//>
      <span>${words.formats[cup.settings.format]}</span>
      <span>${words.phase(cup)}</span>
      ${words.estimate(cup.left, clock) && html`<span>${words.estimate(cup.left, clock)}</span>`}
    </header>
    <div role="status" class="banners">${lost && html`<p class="banner urgent">${words.lost}</p>`}</div>
    <${News} cup=${cup} />
    <main class=${`cup ${bracket ? 'drawn' : 'listed'} ${bracket && pooled ? 'both' : ''}`}>
      ${cup.phase === 'entry' && html`<${Entrants} cup=${cup} />`}
      ${bracket && html`<figure tabindex="0" aria-label=${words.bracket}><${Bracket} cup=${cup} /><${Heard} cup=${cup} /></figure>`}
      ${bracket && html`<${Now} cup=${cup} />`}
      ${pooled && html`<${Tabled} cup=${cup} />`}
      ${!bracket && html`<${Now} cup=${cup} />`}
      <p class="rules"><b>${words.rulesTitle}:</b> ${words.rules(cup.settings).join(' ')}</p>
    </main>`;
}

const crowd = (n) => (n > 60 ? 'many' : n > 20 ? '' : 'few');

function Entrants({ cup }) {
  return html`
    <section class=${`entrants ${crowd(cup.order.length)}`}>
      <h2>${words.entrants(cup.order.length)}</h2>
      <ol>${cup.order.map((e, i) => html`<li key=${e}><span class="aside">${i + 1}</span> ${cup.entrants[e - 1].name}</li>`)}</ol>
    </section>`;
}

// Tabled sets by how many ems it is wide and high, from which the sheet chooses
// a size that fills the screen.
function Tabled({ cup }) {
  const tables = cup.tables.filter((t) => t.part !== 'winners');
  const rounds = cup.columns.filter((c) => ['round', 'table', 'pool'].includes(c.part));
  const open = rounds.filter((c) => c.matches.some((m) => !m.result?.outcome)).slice(0, 1);
  const shown = open.length ? open : rounds.slice(-1);
  const stacked = tables.every((t) => crosses(cup, t));
  const across = Math.min(tables.length, tables.length > 4 ? 3 : 2);
  const sizes = tables.map((t) => sizeOf(cup, t));
  const high = Math.ceil(tables.length / across) * (Math.max(...sizes.map((s) => s.high)) + 1) + (stacked ? 4 + Math.ceil(shown[0].matches.length / 3) * 1.6 : 0);
  const wide = across * (Math.max(...sizes.map((s) => s.wide)) + 1.5);
  return html`
    <div class=${`tabled ${stacked ? 'stacked' : ''}`} style=${{ '--across': across, '--high': Math.max(14, high), '--wide': wide }}>
      <${Tables} cup=${cup} />
      ${cup.bracket === 0 && html`<${Fixtures} cup=${cup} columns=${shown} />`}
    </div>`;
}

const mostNext = 2;
const sidesOf = (cup, m) => words.sides(cup.entrants[m.home.entrant - 1].name, cup.entrants[m.away.entrant - 1].name);
const playingOf = (cup) => cup.columns.flatMap((c) => c.matches).filter((m) => cup.games[m.id]);
const firstOf = (cup) => words.first(cup.ranking.filter((r) => r.rank === 1).map((r) => r.name));

// News is what a screen reader is told as the tournament goes on.
export function News({ cup }) {
  const playing = playingOf(cup).map((m) => `${words.nowPlaying(m.id)} ${sidesOf(cup, m)}`);
  return html`<p class="heard" role="status">${[words.phase(cup), ...(cup.phase === 'ended' ? [firstOf(cup)] : playing)].join('. ')}</p>`;
}

// Now lists what is being played, with the codes that phones join by, and what
// is next where no list of the round's matches says so.
function Now({ cup }) {
  const all = cup.columns.flatMap((c) => c.matches);
  const sides = (m) => sidesOf(cup, m);
  const playing = playingOf(cup);
  const ready = cup.bracket > 0 ? all.filter((m) => cup.ready.includes(m.id)).slice(0, mostNext) : [];
  if (cup.phase === 'ended') return html`<p class="now"><b>${firstOf(cup)}</b></p>`;
  if (playing.length + ready.length === 0) return null;
  return html`
    <ul class="now">
      ${playing.map((m) => html`<li key=${m.id}><b>${words.nowPlaying(m.id)}</b> ${sides(m)} <span class="code">${cup.games[m.id].code}</span></li>`)}
      ${ready.map((m) => html`<li key=${m.id}>${words.nextUp(m.id)} ${sides(m)}</li>`)}
    </ul>`;
}

// Heard is the picture in words.
function Heard({ cup }) {
  const name = (seat) => (seat.entrant > 0 ? cup.entrants[seat.entrant - 1].name : seat.from ? words.from(seat) : words.bye);
  const columns = cup.columns.filter((c) => c.matches[0].id >= cup.bracket);
  const double = columns.some((c) => c.part === 'losers');
  return html`
    <div class="heard">
      ${columns.map((c) => html`
        <h2>${words.round(c.part, c.round, c.matches.length, double)}</h2>
        <ul>${c.matches.filter((m) => m.home.entrant !== -1 && m.away.entrant !== -1).map((m) => html`
          <li key=${m.id}>${words.spoken(m, name(m.home), name(m.away))}</li>`)}</ul>`)}
    </div>`;
}

export function NoCup({ message }) {
  return html`<main class="sheet"><${Heading}>${words.title}<//><${Message} text=${message} /></main>`;
}
