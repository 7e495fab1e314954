// The console in a station round: the clock, every station with its teams, its
// questions and their keys, which the host may correct.

import { html } from '../vendor/preact-htm.mjs';
import { Options, Plate, Told } from '../parts/parts.mjs';
import { Sound } from '../parts/signal.mjs';
import { named } from '../lib/species.mjs';
import { StationClock } from '../parts/station-clock.mjs';
import { common } from '../words/common.mjs';
import { station } from '../words/station.mjs';

// StationDesk: keys is what useKeys gives.
export function StationDesk({ state, keys, onDo }) {
  const { rotation } = state;
  const shown = keys.shown || state.phase === 'marked';
  return html`
    <section class="desk">
      <p class="where">${common.round(state.round)}. ${rotation.turn > 0 && `${station.rotation(rotation)}.`}</p>
      <h2>${heading(state)}</h2>
      ${state.phase !== 'marked' && html`<${StationClock} state=${state} />`}
      <p><${Sound} state=${state} /></p>
      <h2>${station.stations}</h2>
      <p class="hint">${shown ? station.correctHint : station.keysHint}</p>
      ${state.phase !== 'marked' && html`<p><button type="button" aria-expanded=${shown ? 'true' : 'false'} onClick=${keys.turn}>${shown ? station.hideKeys : station.showKeys} <kbd>${keys.key.toUpperCase()}</kbd></button></p>`}
      <ol class="benches">${state.host.stations.map((s) => html`<${Bench} key=${s.station} shown=${shown} specimen=${s} state=${state} onDo=${onDo} />`)}</ol>
    </section>`;
}

function heading(state) {
  if (state.phase !== 'walk') return station.phases[state.phase];
  return state.rotation.turn === 0 ? station.find : station.walk;
}

function Bench({ specimen, shown, state, onDo }) {
  const there = state.host.teams.filter((t) => t.station === specimen.station).map((t) => t.name);
  const who = html`<span class="there">${there.length ? there.join(', ') : station.empty}</span>`;
  if (!shown) return html`<li><p><b>${station.at(specimen.station)}</b>${who}</p></li>`;
  return html`
    <li>
      <details>
        <summary>
          <b>${specimen.station}</b> ${station.specimen(named(specimen.animal), specimen.subject)}${specimen.replica && ` (${station.own})`}
          ${state.phase !== 'marked' && who}
        </summary>
        <${Plate} question=${specimen} />
        ${specimen.questions.map((q) => html`<${Asked} key=${q.id} question=${q} onDo=${onDo} />`)}
      </details>
    </li>`;
}

function Asked({ question, onDo }) {
  const id = `key-${question.n}`;
  const mark = (i) => ({
    text: [i === question.key && `${common.right} ${common.key}`, common.picks(question.picks[i])].filter(Boolean).join(', '),
    kind: i === question.key ? 'key' : '',
  });
  const correct = (event) => onDo('correct', { question: question.id, option: Number(event.target.value) });
  return html`
    <section>
      <h3>${question.n}. <${Told} text=${question.prompt} /></h3>
      <${Options} question=${question} mark=${mark} />
      <p class="reason"><${Told} text=${question.reason} /></p>
      <div class="field correct">
        <label for=${id}>${station.keyOf(question.n)}</label>
        <select id=${id} onChange=${correct}>
          ${question.options.map((_, i) => html`<option key=${i} value=${i} selected=${i === question.key}>${common.letters[i]}</option>`)}
          <option value="-1" selected=${question.key < 0}>${station.voided}</option>
        </select>
      </div>
    </section>`;
}
