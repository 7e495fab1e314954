// What the public page shows of a tournament: made for a projector, and for paper.

import { html } from '../vendor/preact-htm.mjs';
import { Bracket } from './bracket.mjs';
import { Fixtures, Tables, crosses, sizeOf } from './tables.mjs';
import { boardOf, nameOf } from './way.mjs';
import { Heading } from '../parts/parts.mjs';
import { sheet } from '../words/sheet.mjs';
import { tournament as words } from '../words/tournament.mjs';

// TournamentBoard: clock is the time for people, as the estimate counts from it.
export function TournamentBoard({ tournament, clock = Date.now(), lost = false }) {
  const bracket = tournament.bracket > 0;
  const pooled = tournament.tables.some((t) => t.part !== 'winners');
  return html`
    <header class="strip">
      <${Heading}>${tournament.name || words.title}<//>
      <span>${sheet.formats[tournament.settings.format]}</span>
      <span>${sheet.phase(tournament)}</span>
      ${sheet.estimate(tournament.left, clock) && html`<span>${sheet.estimate(tournament.left, clock)}</span>`}
    </header>
    <div role="status" class="banners">${lost && html`<p class="banner urgent">${words.lost}</p>`}</div>
    <${News} tournament=${tournament} />
    <main class=${`tournament ${bracket ? 'drawn' : 'listed'} ${bracket && pooled ? 'both' : ''}`}>
      ${tournament.phase === 'entry' && html`<${Entrants} tournament=${tournament} />`}
      ${bracket && html`<p class="hint sideways">${sheet.sideways}</p><figure tabindex="0" aria-label=${sheet.bracket}><${Bracket} tournament=${tournament} /><${Heard} tournament=${tournament} /></figure>`}
      ${bracket && html`<${Now} tournament=${tournament} />`}
      ${pooled && html`<${Tabled} tournament=${tournament} />`}
      ${!bracket && html`<${Now} tournament=${tournament} />`}
      <p class="rules"><b>${sheet.rulesTitle}:</b> ${sheet.rules(tournament.settings).join(' ')}</p>
    </main>`;
}

const crowd = (n) => (n > 60 ? 'many' : n > 20 ? '' : 'few');

function Entrants({ tournament }) {
  return html`
    <section class=${`entrants ${crowd(tournament.order.length)}`}>
      <h2>${sheet.entrants(tournament.order.length)}</h2>
      <ol>${tournament.order.map((e, i) => html`<li key=${e}><span class="aside">${i + 1}</span> ${tournament.entrants[e - 1].name}</li>`)}</ol>
    </section>`;
}

// Tabled sets by how many ems it is wide and high, from which the sheet chooses
// a size that fills the screen.
export function Tabled({ tournament }) {
  const tables = tournament.tables.filter((t) => t.part !== 'winners');
  const rounds = tournament.columns.filter((c) => ['round', 'table', 'pool'].includes(c.part));
  const open = rounds.filter((c) => c.matches.some((m) => !m.result?.outcome)).slice(0, 1);
  const shown = open.length ? open : rounds.slice(-1);
  const stacked = tables.every((t) => crosses(tournament, t));
  const across = Math.min(tables.length, tables.length > 4 ? 3 : 2);
  const sizes = tables.map((t) => sizeOf(tournament, t));
  const high = Math.ceil(tables.length / across) * (Math.max(...sizes.map((s) => s.high)) + 1) + (stacked ? 4 + Math.ceil(shown[0].matches.length / 3) * 1.6 : 0);
  const wide = across * (Math.max(...sizes.map((s) => s.wide)) + 1.5);
  return html`
    <div class=${`tabled ${stacked ? 'stacked' : ''}`} style=${{ '--across': across, '--high': Math.max(14, high), '--wide': wide }}>
      <${Tables} tournament=${tournament} />
      ${tournament.bracket === 0 && html`<${Fixtures} tournament=${tournament} columns=${shown} />`}
    </div>`;
}

const mostNext = 2;
export const sidesOf = (tournament, m) => sheet.sides(nameOf(tournament, m.home.entrant), nameOf(tournament, m.away.entrant));
const playingOf = (tournament) => tournament.columns.flatMap((c) => c.matches).filter((m) => tournament.games[m.id]);
const firstOf = (tournament) => sheet.first(tournament.ranking.filter((r) => r.rank === 1).map((r) => r.name));

// News is what a screen reader is told as the tournament goes on.
export function News({ tournament }) {
  const playing = playingOf(tournament).map((m) => `${sheet.nowPlaying(m.id)} ${sidesOf(tournament, m)}`);
  return html`<p class="heard" role="status">${[sheet.phase(tournament), ...(tournament.phase === 'ended' ? [firstOf(tournament)] : playing)].join('. ')}</p>`;
}

// Now lists what is being played, with the codes that phones join by, and what
// is next where no list of the round's matches says so.
function Now({ tournament }) {
  const all = tournament.columns.flatMap((c) => c.matches);
  const sides = (m) => sidesOf(tournament, m);
  const playing = playingOf(tournament);
  const { boards } = tournament;
  const ready = tournament.bracket > 0 ? all.filter((m) => tournament.ready.includes(m.id)).slice(0, mostNext) : [];
  if (tournament.phase === 'ended') return html`<p class="now"><b>${firstOf(tournament)}</b></p>`;
  if (playing.length + ready.length === 0) return null;
  return html`
    <ul class="now">
      ${playing.map((m) => html`<li key=${m.id}><b>${sheet.nowPlaying(m.id)}</b> ${sides(m)} ${boards > 1 && boardOf(tournament, m.id) > 0 && html`<b>${sheet.atBoard(boardOf(tournament, m.id))}</b>`} <span class="code">${tournament.games[m.id].code}</span></li>`)}
      ${ready.map((m) => html`<li key=${m.id}>${sheet.nextUp(m.id)} ${sides(m)}</li>`)}
    </ul>`;
}

// Heard is the picture in words.
export function Heard({ tournament }) {
  const name = (seat) => (seat.entrant > 0 ? tournament.entrants[seat.entrant - 1].name : seat.from ? sheet.from(seat) : sheet.bye);
  const columns = tournament.columns.filter((c) => c.matches[0].id >= tournament.bracket);
  const double = columns.some((c) => c.part === 'losers');
  return html`
    <div class="heard">
      ${columns.map((c) => html`
        <h2>${sheet.round(c.part, c.round, c.matches.length, double)}</h2>
        <ul>${c.matches.filter((m) => m.home.entrant !== -1 && m.away.entrant !== -1).map((m) => html`
          <li key=${m.id}>${sheet.spoken(m, name(m.home), name(m.away))}</li>`)}</ul>`)}
    </div>`;
}
