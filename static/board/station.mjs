// What the projector shows in a station round: the clock, and which team is
// where. The signal is seen as the whole screen turning dark. After the round
// it goes through the stations, one at a time.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { Fit } from './fit.mjs';
import { Head } from './head.mjs';
import { Specimen } from '../parts/lesson.mjs';
import { Sign } from '../parts/parts.mjs';
import { named, tongue } from '../lib/species.mjs';
import { StationClock } from '../parts/station-clock.mjs';
import { board } from '../words/board.mjs';
import { common } from '../words/common.mjs';
import { station } from '../words/station.mjs';

const oneColumn = 10; // stations
const turnEvery = 12_000; // ms, for each station

export function Rotation({ state, address }) {
  const Body = state.phase === 'marked' ? Specimens : Places;
  const signal = state.phase === 'walk' && state.rotation.turn > 0;
  return html`
    <div class=${signal ? 'rotation signal' : 'rotation'}>
      <${Head} state=${state} address=${address}>${state.rotation.turn > 0 && html`<span class="turn">${station.rotation(state.rotation)}</span>`}<//>
      <${Body} state=${state} />
    </div>`;
}

function heading(state) {
  if (state.phase === 'station') return station.work;
  return state.rotation.turn === 0 ? station.find : station.walk;
}

function Places({ state }) {
  const { places } = state.rotation;
  const names = (p) => [p.teams.join(', '), p.more > 0 && station.more(p.more)].filter(Boolean).join(' ');
  return html`
    <${Fit} kind="circuit" most="7">
      <div class="time"><h1>${heading(state)}</h1><${StationClock} state=${state} /></div>
      <ol class=${places.length > oneColumn ? 'places two' : 'places'}>
        ${places.map((p) => html`
          <li key=${p.station}>
            <b class="number">${places.length > oneColumn ? p.station : station.at(p.station)}</b>
            <span class="there">${names(p) || html`<span aria-hidden="true">–</span><span class="heard">${station.empty}</span>`}</span>
          </li>`)}
      </ol>
    <//>`;
}

// Specimens go by by themselves until someone chooses one.
function Specimens({ state }) {
  const { told } = state.rotation;
  const [at, setAt] = useState(0);
  const [held, setHeld] = useState(false);
  useEffect(() => {
    if (held) return undefined;
    const timer = setInterval(() => setAt((n) => (n + 1) % told.length), turnEvery);
    return () => clearInterval(timer);
  }, [held, told.length]);
  const choose = (i) => {
    setAt(i);
    setHeld(true);
  };
  const s = told[Math.min(at, told.length - 1)];
  return html`
    <${Fit} kind="specimen" most="6.5">
      <h1>${station.at(s.station)}: <span lang=${tongue(s.animal)}>${station.specimen(named(s.animal), s.subject)}</span></h1>
      ${s.plate && html`<${Specimen} key=${s.station} specimen=${s} />`}
      <ol class="keys">
        ${s.questions.map((q) => html`
          <li key=${q.id}>
            <p lang=${tongue(q.prompt)}>${q.n}. ${q.prompt}</p>
            <p class="answer" lang=${tongue(q.options[q.key] ?? '')}>${q.key < 0 ? station.voided : html`<${Sign} kind="right" /> ${common.letters[q.key]} ${named(q.options[q.key])}`}</p>
          </li>`)}
      </ol>
      <nav class="stations" aria-label=${station.marked}>
        ${told.map((t, i) => html`<button type="button" key=${t.station} aria-label=${station.at(t.station)} aria-pressed=${t === s ? 'true' : 'false'} onClick=${() => choose(i)}>${t.station}</button>`)}
        <button type="button" aria-pressed=${held ? 'true' : 'false'} onClick=${() => setHeld(!held)}>${board.hold}</button>
      </nav>
    <//>`;
}
