// What the season's page and its board show.

import { html, useRef, useState } from '../vendor/preact-htm.mjs';
import { Table } from '../parts/table.mjs';
import { Dialog } from '../parts/dialog.mjs';
import { Field, Heading, Message, Spot } from '../parts/parts.mjs';
import { Choice } from '../parts/fields.mjs';
import { cleanCode } from '../lib/codes.mjs';
import { club } from '../words/club.mjs';
import { common } from '../words/common.mjs';

const boardOf = (season) => `/season/board?season=${encodeURIComponent(season)}`;

export function SeasonPage({ view, message = '', onChoose, onUntil, onShow, onCount, onEraseTeam, onEraseSeason, onSave, onPrint }) {
  const [dialog, setDialog] = useState(null);
  const { season } = view;
  return html`
    <main class="report season">
      <header>
        <${Heading}>${season ? club.heading(season.id) : club.season}<//>
        <p class="acts">
          ${season && html`
            <button type="button" onClick=${onSave}>${club.save}</button>
            <button type="button" onClick=${onPrint}>${club.print}</button>`}
          <a href=${season ? `/season-plan?season=${encodeURIComponent(season.id)}` : '/season-plan'}>${club.seasonPlan}</a>
          <a href="/fair-teams">${club.fairTeams}</a>
          <a href=${season ? `/trends?season=${encodeURIComponent(season.id)}` : '/trends'}>${club.trends}</a>
        </p>
        <${Message} text=${message} />
        ${season ? html`<div class="fields narrow acts">
          <${Choice} id="season" label=${club.choose} value=${season.id} choices=${view.seasons.map((s) => [s, s])} onValue=${onChoose} />
          <${Choice} id="until" label=${club.until} value=${view.until} choices=${[['', club.now], ...view.dates.map((d) => [d, d])]} onValue=${onUntil} />
        </div>` : html`<p class="lead">${club.none}</p><p class="spots"><${Spot} name="bobcat-print" /><${Spot} name="bobcat-print" /><${Spot} name="bobcat-print" /></p>`}
      </header>
      ${season && html`
        <${Standing} view=${view} />
        <${Ratings} ratings=${view.ratings} />
        <${Showing} season=${season} onShow=${onShow} />
        <${Games} games=${view.games} onCount=${onCount} />
        <section class="acts">
          <h2>${club.erase}</h2>
          <p>${club.eraseHint}</p>
          <${EraseTeam} table=${view.table} onErase=${(l) => setDialog({ ...club.confirmTeam(l.name), go: () => onEraseTeam(l.team) })} />
          <button type="button" onClick=${() => setDialog({ ...club.confirmSeason(season.id), go: onEraseSeason })}>${club.eraseSeason}</button>
        </section>`}
    </main>
    ${dialog && html`<${Dialog} ...${dialog} onClose=${() => setDialog(null)} />`}`;
}

// Moved says a movement with a sign, and in words to who hears it.
function Moved({ line }) {
  return html`<span aria-hidden="true">${club.moved(line.was, line.rank)}</span><span class="heard">${club.movedSaid(line.was, line.rank)}</span>`;
}

function Standing({ view }) {
  const { rank, moved, team, points, right, games } = club.columns;
  const rows = view.table.map((l) => [
    html`<b>${l.rank}</b> <span class="name">${l.name}</span>`, html`<${Moved} line=${l} />`, l.points, club.share(l.right, l.of), l.games,
  ]);
  return html`
    <section>
      <h2>${club.table}</h2>
      ${rows.length === 0 ? html`<p>${club.noneCounted}</p>` : html`
        <${Bars} table=${view.table} />
        <${Table} kind="standing" caption=${club.tableCaption(view.until)} columns=${{ team: `${rank}, ${team.toLowerCase()}`, moved, points, right, games }} rows=${rows} />
        <p class="hint">${club.tieRule} ${club.movedHint}</p>`}
    </section>`;
}

// Bars show the table's points before it tells them.
function Bars({ table }) {
  const most = Math.max(1, ...table.map((l) => l.points));
  return html`
    <ul class="bars" aria-hidden="true">
      ${table.map((l) => html`
        <li key=${l.team}>
          <span class="what">${l.rank} ${l.name}</span>
          <svg class="bar-of" viewBox="0 0 100 10" preserveAspectRatio="none"><rect class="trough" width="100" height="10" /><rect class="dark" width=${Math.max(0, 100 * l.points / most)} height="10" /></svg>
          <span class="n">${l.points}</span>
        </li>`)}
    </ul>`;
}

// EraseTeam stands apart from the table, where nobody presses it in passing.
function EraseTeam({ table, onErase }) {
  if (table.length === 0) return null;
  return html`
    <details>
      <summary>${club.eraseSome}</summary>
      <ul class="erasing">${table.map((l) => html`<li key=${l.team}><button type="button" onClick=${() => onErase(l)}>${club.eraseTeamOne(l.name)}</button></li>`)}</ul>
    </details>`;
}

function Ratings({ ratings }) {
  const rows = ratings.map((r) => [r.name, html`<b>${club.rating(r)}</b>`, club.range(r), r.games]);
  return html`
    <section>
      <h2>${club.ratings}</h2>
      ${rows.length === 0 ? html`<p>${club.noRatings}</p>` : html`
        <${Table} caption=${club.ratingsCaption} columns=${club.ratingColumns} rows=${rows} />
        <p class="hint">${club.ratingsHint}</p>`}
    </section>`;
}

function Showing({ season, onShow }) {
  const check = (name, label, disabled) => html`
    <label class="check" for=${`show-${name}`}>
      <input id=${`show-${name}`} type="checkbox" checked=${season[name]} disabled=${disabled} onChange=${(e) => onShow({ [name]: e.target.checked })} />
      <span>${label}</span>
    </label>`;
  return html`
    <section class="acts">
      <h2>${club.show}</h2>
      ${check('open', club.open, false)}
      ${check('ratings', club.openRatings, !season.open)}
      ${season.open && html`<p><a href=${boardOf(season.id)} target="_blank" rel="noreferrer">${club.toBoard}</a></p>`}
    </section>`;
}

function Games({ games, onCount }) {
  const [message, setMessage] = useState('');
  const input = useRef(null);

  function submit(event) {
    event.preventDefault();
    const code = cleanCode(input.current.value);
    setMessage(code ? '' : club.addGameHint);
    if (code) onCount(code, false);
  }

  const rows = games.map((g) => [
    g.date, html`${g.title} <a class="aside" href=${`/debrief?game=${encodeURIComponent(g.game)}`}>${g.game}</a>`,
    g.due ? club.playing : g.teams > 0 ? club.teamsIn(g.teams) : club.out,
    html`<span class="pair">
      ${(g.teams > 0 || g.due) && html`<button type="button" aria-label=${club.takeOutOne(g)} onClick=${() => onCount(g.game, true)}>${club.takeOut}</button>`}
      ${!g.due && html`<button type="button" aria-label=${club.anewOne(g)} onClick=${() => onCount(g.game, false)}>${club.anew}</button>`}
    </span>`,
  ]);
  return html`
    <section>
      <h2>${club.played}</h2>
      ${rows.length === 0 ? html`<p>${club.noneCounted}</p>` : html`<${Table} kind="games" caption=${club.playedCaption} columns=${club.playedColumns} rows=${rows} />`}
      <form class="add acts" onSubmit=${submit} novalidate>
        <${Field} id="add" label=${club.addGame} hint=${club.addGameHint}>
          <input id="add" ref=${input} autocomplete="off" autocapitalize="none" spellcheck="false" maxlength="60" aria-describedby="add-hint" />
        <//>
        <${Message} text=${message} />
        <button type="submit">${club.add}</button>
      </form>
    </section>`;
}

// As on the game's board: lines that stand in one column, and from how many on
// they are set close.
const oneColumn = 8;
const manyTeams = 16;

// SeasonBoard is for a projector. board.ratings is empty unless the host opened them.
export function SeasonBoard({ board }) {
  const { table } = board;
  const rows = table.length > oneColumn ? Math.ceil(table.length / 2) : table.length;
  const columns = [table.slice(0, rows), table.slice(rows)].filter((c) => c.length > 0);
  const crowd = table.length > manyTeams ? 'many' : table.length > oneColumn ? '' : 'few';
  const ratings = new Map(board.ratings.map((r) => [r.team, r]));
  return html`
    <main class="ranking">
      <header>
        <h1>${club.heading(board.season)}</h1>
        <p>${club.boardTies}</p>
      </header>
      ${table.length === 0 && html`<p>${club.boardEmpty}</p>`}
      <div class=${`columns ${crowd}`}>
        ${columns.map((c) => html`<${BoardTable} key=${c[0].team} lines=${c} ratings=${ratings} roomy=${crowd === 'few'} />`)}
      </div>
    </main>`;
}

// BoardTable leaves room for the names: two tables side by side have one
// column of movements or of ratings, and none of shares.
function BoardTable({ lines, ratings, roomy }) {
  const { rank, moved, team, points, right, rating } = club.columns;
  const rated = ratings.size > 0;
  const columns = [
    (roomy || !rated) && { head: moved, cell: (l) => html`<td class="moved"><${Moved} line=${l} /></td>` },
    { head: team, cell: (l) => html`<th scope="row">${l.name}</th>` },
    roomy && { head: right, cell: (l) => html`<td class="number">${club.percentOf(l.right, l.of)}</td>` },
    rated && { head: rating, cell: (l) => html`<td class="number">${ratings.has(l.team) && club.whole(ratings.get(l.team).rating)}</td>` },
    { head: points, cell: (l) => html`<td class="number">${l.points}</td>` },
  ].filter(Boolean);
  return html`
    <table class="leaders">
      <thead><tr><th scope="col">${rank}</th>${columns.map(({ head }) => html`<th scope="col" key=${head} class=${[moved, team].includes(head) ? '' : 'number'}>${head}</th>`)}</tr></thead>
      <tbody>${lines.map((l) => html`<tr key=${l.team}><td>${l.rank}</td>${columns.map(({ cell }) => cell(l))}</tr>`)}</tbody>
    </table>`;
}

export function BoardClosed() {
  return html`
    <main class="stopped">
      <${Heading}>${club.boardTitle}<//>
      <p role="alert">${club.boardClosed}</p>
      <p><a href="/">${common.toStart}</a></p>
    </main>`;
}
