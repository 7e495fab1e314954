// What a board shows between two matches that are played at it.

import { html } from '../vendor/preact-htm.mjs';
import { Bracket } from './bracket.mjs';
import { Heard, News, Tabled, sidesOf } from './board-screens.mjs';
import { levelAt, matchesOf, nameOf } from './way.mjs';
import { Fit } from '../board/fit.mjs';
import { Desk, Joining } from '../board/desk.mjs';
import { Heading, Message, Sign } from '../parts/parts.mjs';
import { called } from '../words/called.mjs';
import { sheet } from '../words/sheet.mjs';
import { tournament as words } from '../words/tournament.mjs';

// Interval: before is the match that was at the board before, or 0.
export function Interval({ tournament, board, before = 0, lost = false }) {
  const way = { code: tournament.code, qr: `/qr.svg?tournament=${encodeURIComponent(tournament.code)}&at=${encodeURIComponent(tournament.joinAt)}` };
  const address = tournament.joinAt || location.host;
  return html`
    <header class="strip">
      <b>${tournament.boards > 1 ? called.board(board) : sheet.board}</b>
      <span>${tournament.name || words.title}</span>
      ${tournament.settings.format === 'swiss' && html`<span>${sheet.phase(tournament)}</span>`}
    </header>
    <div role="status" class="banners">${lost && html`<p class="banner urgent">${words.lost}</p>`}</div>
    <${News} tournament=${tournament} />
    <${Fit} kind=${`interval ${tournament.phase}`} most=${tournament.phase === 'play' ? 5 : 6}>
      <${Call} tournament=${tournament} match=${tournament.at[board - 1] ?? 0} before=${before} />
      ${tournament.phase === 'entry' ? html`<${Gathering} tournament=${tournament} />` : html`<${Sheet} tournament=${tournament} />`}
      ${tournament.phase !== 'ended' && html`
        <aside>
          <div class="sign-in"><${Joining} state=${way} address=${address} lead=${called.signIn} alt=${sheet.qrAlt} />
            <p>${called.signedInOf(Object.keys(tournament.seats).length, tournament.order.length)}</p></div>
        </aside>`}
    <//>
    <${Desk} state=${{ phase: tournament.phase === 'entry' ? 'lobby' : 'interval', ...way }} address=${address} />`;
}

// Call is whom the board waits for, or what it has to say.
function Call({ tournament, match, before }) {
  const all = matchesOf(tournament);
  const m = all.find((o) => o.id === match);
  const last = all.find((o) => o.id === before && o.result?.outcome);
  const first = tournament.ranking.filter((r) => r.rank === 1).map((r) => r.name);
  if (tournament.phase === 'entry') return html`<section class="call"><${Heading}>${tournament.name || words.title}<//></section>`;
  if (tournament.phase === 'ended') return html`<section class="call"><${Heading}>${sheet.first(first)}<//></section>`;
  const uncalled = tournament.ready.find((id) => !tournament.at.includes(id));
  const then = all.find((o) => o.id === uncalled);
  return html`
    <section class="call">
      ${last && html`<p class="before">${called.before(last.id)} <b>${sidesOf(tournament, last)}</b> <span class="score">${sheet.outcome(last, tournament)}</span></p>`}
      ${m ? html`<p class="which">${called.here(m.id)}</p>` : html`<${Heading}>${called.free}<//>`}
      ${m ? html`<${Heading}><${Team} tournament=${tournament} entrant=${m.home.entrant} /> <${Team} tournament=${tournament} entrant=${m.away.entrant} lead="– " /><//>` : html`<p class="then">${called.freeMore}</p>`}
      ${m && levelAt(tournament, m) && html`<p class="then">${called.level}</p>`}
      ${then && html`<p class="then">${called.then(then.id)} ${sidesOf(tournament, then)}</p>`}
    </section>`;
}

function Team({ tournament, entrant, lead = '' }) {
  const signed = tournament.seats[entrant] ? html`<${Sign} kind="right" /> <span class="heard">${called.isIn}</span>` : html`<small>${called.notIn}</small>`;
  return html`<span class="team">${lead}${nameOf(tournament, entrant)} ${signed}</span>`;
}

const crowded = 12;

function Gathering({ tournament }) {
  const { order, entrants, seats } = tournament;
  const columns = order.length > crowded ? 3 : order.length > crowded / 2 ? 2 : 1;
  return html`
    <section class="here gathering">
      <ol class="names" style=${{ '--rows': Math.ceil(order.length / columns) }}>${order.map((e) => html`
        <li key=${e}>${entrants[e - 1].name} ${seats[e] && html`<${Sign} kind="right" /> <span class="heard">${called.isIn}</span>`}</li>`)}</ol>
    </section>`;
}

function Sheet({ tournament }) {
  if (tournament.bracket > 0) return html`<figure><${Bracket} tournament=${tournament} shape=${innerWidth / innerHeight > 1.5 ? 2.9 : 2} /><${Heard} tournament=${tournament} /></figure>`;
  return html`<${Tabled} tournament=${tournament} />`;
}

export function NoBoard({ board, of }) {
  return html`<main class="sheet"><${Heading}>${called.board(board)}<//><${Message} text=${called.noBoard(board, of)} /></main>`;
}
