// What the page for fair teams shows.

import { html, useRef, useState } from '../vendor/preact-htm.mjs';
import { Table } from '../parts/table.mjs';
import { Field, Heading, Message } from '../parts/parts.mjs';
import { Choice } from '../parts/fields.mjs';
import { club } from '../words/club.mjs';

const mostTeams = 60;

// FairTeams: list is the one kept on the device, made the teams as the hub made
// them. onMake(wish, keep) asks for others.
export function FairTeams({ seasons, list = '', made, message = '', onMake, onPrint }) {
  const names = useRef(null);
  const [teams, setTeams] = useState(4);
  const [season, setSeason] = useState(seasons.at(-1) ?? '');
  const [keep, setKeep] = useState(list !== '');
  const [problem, setProblem] = useState('');

  function make(event) {
    event.preventDefault();
    const found = names.current.value.split('\n').map((line) => line.trim()).filter(Boolean);
    setProblem(found.length > 1 ? '' : club.emptyList);
    if (found.length > 1) onMake({ names: found, teams, season, seed: 0 }, keep);
    else names.current.focus();
  }

  return html`
    <main class="report fair">
      <header>
        <${Heading}>${club.fairTeams}<//>
        <p class="lead acts">${club.fairLead}</p>
      </header>
      <form class="acts" onSubmit=${make} novalidate>
        <${Field} id="names" label=${club.names} hint=${club.fairPrivacy}>
          <textarea id="names" ref=${names} rows="10" defaultValue=${list} autocomplete="off" spellcheck="false" aria-describedby="names-hint"></textarea>
        <//>
        <div class="fields narrow">
          <${Field} id="teams" label=${club.howMany}>
            <input id="teams" type="number" inputmode="numeric" min="2" max=${mostTeams} value=${teams} onInput=${(e) => setTeams(e.target.valueAsNumber || 0)} />
          <//>
          <${Choice} id="by" label=${club.by} value=${season} choices=${[['', club.byLot], ...seasons.map((s) => [s, club.byRating(s)])]} onValue=${setSeason} />
        </div>
        <label class="check" for="keep">
          <input id="keep" type="checkbox" checked=${keep} onChange=${(e) => setKeep(e.target.checked)} /><span>${club.keep}</span>
        </label>
        <${Message} text=${problem || message} />
        <div class="pair"><button type="submit" class="main">${made ? club.again : club.deal}</button></div>
      </form>
      ${made && html`<${Made} made=${made} onPrint=${onPrint} />`}
    </main>`;
}

function Made({ made, onPrint }) {
  const { team, players, size, total, mean } = club.fairColumns;
  const columns = made.rated ? { team, players, size, total, mean } : { team, players, size };
  const rows = made.teams.map((t, i) => [
    html`<b>${club.teamN(i + 1)}</b>`, html`<${Players} team=${t} rated=${made.rated} />`, t.players.length,
    ...(made.rated ? [club.whole(t.total), club.whole(t.mean)] : []),
  ]);
  return html`
    <section>
      <${Table} kind="fair-teams" caption=${club.fairCaption} columns=${columns} rows=${rows} />
      ${made.rated && html`<p>${club.fairSpread(made.spread)}</p>`}
      <p class="hint">${club.fairSeed(made.seed)}</p>
      <p class="acts"><button type="button" onClick=${onPrint}>${club.print}</button></p>
    </section>`;
}

function Players({ team, rated }) {
  return html`
    <ul class="players">
      ${team.players.map((p) => html`<li key=${p.name}>${p.name}${rated && html` <span class="aside">${p.known ? club.whole(p.rating) : club.newcomer}</span>`}</li>`)}
    </ul>`;
}
