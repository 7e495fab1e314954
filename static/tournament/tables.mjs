// The tables of a tournament: who stands where, who met whom, who goes on.

import { html } from '../vendor/preact-htm.mjs';
import { common } from '../words/common.mjs';
import { sheet } from '../words/sheet.mjs';
import { tournament as words } from '../words/tournament.mjs';

const mostCrossed = 14; // entrants of a table that shows every meeting

// crosses tells whether a table shows every meeting.
export const crosses = (tournament, table) => tournament.settings.format !== 'swiss' && table.rows.length <= mostCrossed;

// noteOf is what a line says of its place besides the figures.
function noteOf(tournament, r) {
  if (r.annulled) return sheet.annulled;
  if (tournament.going.level.flat().includes(r.entrant)) return sheet.undecided;
  if (tournament.going.field.includes(r.entrant)) return `${common.right} ${tournament.bracket > 0 || tournament.may.next ? sheet.goesOn : sheet.inSoFar}`;
  if (r.withdrawn) return sheet.withdrawn;
  return r.level && r.played > 0 ? sheet.level : sheet.by[r.by] ?? '';
}

// What a letter takes of an em, the spaces beside a cell included once.
const [letter, headLetter, beside] = [0.62, 0.56, 0.9];
const wideAs = (texts, each = letter) => Math.max(0, ...texts.map((text) => text.length)) * each + beside;

// sizeOf is about how many ems a table is wide and high.
export function sizeOf(tournament, table) {
  const crossed = crosses(tournament, table);
  const { points, played, record, buchholz, sonneborn, by, goes } = sheet.columns;
  const heads = [common.rank, points, played, sonneborn, ...(crossed ? [] : [record]), ...(tournament.settings.format === 'swiss' ? [buchholz] : [])];
  const names = wideAs(table.rows.map((r) => r.name)) + (crossed ? 1.5 : 0);
  const notes = Math.max(wideAs(table.rows.map((r) => noteOf(tournament, r))), wideAs([by, goes], headLetter));
  return {
    wide: heads.reduce((sum, text) => sum + wideAs([text], headLetter), names + notes) + (crossed ? table.rows.length * 3.6 : 0),
    high: 3 + table.rows.length * (crossed ? 2.15 : 1.62),
  };
}

export function Tables({ tournament }) {
  const tables = tournament.tables.filter((t) => t.part !== 'winners');
  if (tables.length === 0) return null;
  const cut = tournament.settings.format === 'pools' ? tournament.settings.advance : 0;
  return html`<div class=${`tournament-tables ${tables.length > 1 ? 'many' : ''}`} role="region" tabindex="0" aria-label=${sheet.tables}>${tables.map((t) => html`<${Table} key=${t.pool ?? 0} tournament=${tournament} table=${t} cut=${cut} />`)}</div>`;
}

// meetings are an entrant's matches against each other of its table.
function meetings(tournament, table, entrant) {
  const all = tournament.columns.flatMap((c) => c.matches).filter((m) => m.part === table.part && (m.pool ?? 0) === (table.pool ?? 0));
  return (other) => all.filter((m) => (m.home.entrant === entrant && m.away.entrant === other) || (m.home.entrant === other && m.away.entrant === entrant));
}

const half = (points) => (Number.isInteger(points) ? `${points}` : `${Math.floor(points) || ''}½`);

function Meeting({ list, entrant, tournament }) {
  return list.map((m) => {
    const { outcome, winner = 0, home = 0, away = 0 } = m.result ?? {};
    if (!outcome) return html`<span key=${m.id} class="aside">${tournament.games[m.id] ? '…' : ''}</span>`;
    const own = winner === entrant ? '1' : winner === 0 ? '½' : '0';
    const [mine, theirs] = m.home.entrant === entrant ? [home, away] : [away, home];
    return html`<span key=${m.id}><b>${own}</b>${outcome === 'played' ? html`<small>${mine}:${theirs}</small>` : html`<small>${words.short[outcome]}</small>`}</span>`;
  });
}

function Table({ tournament, table, cut }) {
  const crossed = crosses(tournament, table);
  const swiss = tournament.settings.format === 'swiss';
  const going = new Set(tournament.going.field);
  return html`
    <table class="tournament-table">
      <caption>${sheet.tableTitle(table)}</caption>
      <thead><tr>
        <th scope="col">${common.rank}</th><th scope="col">${common.team}</th>
        ${crossed && table.rows.map((r, i) => html`<th scope="col" class="cell" key=${r.entrant} title=${r.name}>${i + 1}</th>`)}
        <th scope="col" class="number">${sheet.columns.points}</th><th scope="col" class="number">${sheet.columns.played}</th>
        ${!crossed && html`<th scope="col" class="number">${sheet.columns.record}</th>`}
        ${swiss && html`<th scope="col" class="number">${sheet.columns.buchholz}</th>`}
        <th scope="col" class="number">${sheet.columns.sonneborn}</th>
        <th scope="col">${cut > 0 ? sheet.columns.goes : sheet.columns.by}</th>
      </tr></thead>
      <tbody>
        ${table.rows.map((r, i) => {
          const against = meetings(tournament, table, r.entrant);
          return html`<tr key=${r.entrant} class=${cut > 0 && going.has(r.entrant) ? 'goes' : ''}>
            <td>${r.rank || '–'}</td><th scope="row">${crossed ? `${i + 1}. ` : ''}${r.name}</th>
            ${crossed && table.rows.map((o) => html`<td class=${o === r ? 'cell self' : 'cell'} key=${o.entrant}>${o === r ? '' : html`<${Meeting} list=${against(o.entrant)} entrant=${r.entrant} tournament=${tournament} />`}</td>`)}
            <td class="number"><b>${half(r.points)}</b></td><td class="number">${r.played}</td>
            ${!crossed && html`<td class="number">${r.won}–${r.drawn}–${r.lost}${r.byes ? ` +${r.byes}` : ''}</td>`}
            ${swiss && html`<td class="number">${half(r.buchholz)}</td>`}
            <td class="number">${Number.isInteger(r.sonnebornBerger * 2) ? half(r.sonnebornBerger) : r.sonnebornBerger}</td>
            <td>${noteOf(tournament, r)}</td>
          </tr>`;
        })}
      </tbody>
    </table>`;
}

// Fixtures are the matches of a Swiss round or of a round robin's, one a line.
export function Fixtures({ tournament, columns }) {
  const name = (seat) => (seat.entrant > 0 ? tournament.entrants[seat.entrant - 1].name : sheet.bye);
  return html`
    <div class="fixtures">
      ${columns.map((c) => html`
        <section key=${`${c.part} ${c.round}`}>
          <h2>${sheet.round(c.part, c.round, c.matches.length)}</h2>
          <ul>${c.matches.map((m) => html`
            <li key=${m.id}>
              <span class="aside">${m.pool ? sheet.pool(m.pool) : m.id}</span>
              <span class=${m.result?.winner === m.home.entrant ? 'won' : ''}>${name(m.home)}</span>
              <b>${sheet.outcome(m, tournament)}</b>
              <span class=${m.result?.winner === m.away.entrant ? 'won' : ''}>${name(m.away)}</span>
            </li>`)}
          </ul>
        </section>`)}
    </div>`;
}
