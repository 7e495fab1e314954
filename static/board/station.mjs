// What the projector shows in a station round: the clock, and which team is
// where. The signal is seen as the whole screen turning dark.

import { html } from '../vendor/preact-htm.mjs';
import { Sound } from '../parts/signal.mjs';
import { named } from '../lib/species.mjs';
import { StationClock } from '../parts/clock.mjs';
import { common } from '../words/common.mjs';
import { station } from '../words/station.mjs';

const oneColumn = 10; // stations
const fewStations = 8; // which leave room for larger type

const letters = { two: 30, '': 60, few: 46 }; // that a line has room for

// layout sets long texts smaller, in two lines.
function layout(texts) {
  const kind = texts.length > oneColumn ? 'two' : texts.length > fewStations ? '' : 'few';
  const long = Math.max(...texts.map((text) => text.length)) > letters[kind];
  return `places ${kind} ${long ? 'long' : ''}`;
}

function Head({ state }) {
  return html`
    <header class="strip">
      <span>${common.round(state.round)}</span>
      ${state.rotation.turn > 0 && html`<span class="turn">${station.rotation(state.rotation)}</span>`}
      <${Sound} state=${state} />
      <span class="code">${state.code}</span>
    </header>`;
}

// Rotation keeps its place in the page through all phases, so that the sound
// stays switched on.
export function Rotation({ state }) {
  const Body = state.phase === 'marked' ? Specimens : Places;
  const signal = state.phase === 'walk' && state.rotation.turn > 0;
  return html`<div class=${signal ? 'rotation signal' : 'rotation'}><${Head} state=${state} /><${Body} state=${state} /></div>`;
}

function heading(state) {
  if (state.phase === 'station') return station.work;
  return state.rotation.turn === 0 ? station.find : station.walk;
}

function Places({ state }) {
  const { places } = state.rotation;
  const names = (p) => [p.teams.join(', '), p.more > 0 && station.more(p.more)].filter(Boolean).join(' ');
  return html`
    <main class="circuit">
      <div class="time"><h1>${heading(state)}</h1><${StationClock} state=${state} /></div>
      <ol class=${layout(places.map(names))}>
        ${places.map((p) => html`
          <li key=${p.station}>
            <b class="number"><span class="heard">${station.at(p.station)}</span><span aria-hidden="true">${p.station}</span></b>
            <span class="names">${names(p) || html`<i>${station.empty}</i>`}</span>
          </li>`)}
      </ol>
    </main>`;
}

// Specimens say what lay where, and the letters of the keys.
function Specimens({ state }) {
  const { told } = state.rotation;
  const letter = (q) => (q.key < 0 ? '–' : common.letters[q.key]);
  const keys = (s) => s.questions.map((q) => (told.length > oneColumn ? letter(q) : `${q.n} ${letter(q)}`)).join('  ');
  const name = (s) => station.specimen(named(s.animal), s.subject);
  return html`
    <main class="circuit">
      <h1>${station.marked}</h1>
      <ol class=${layout(told.map((s) => name(s) + keys(s)))}>
        ${told.map((s) => html`
          <li key=${s.station}>
            <b class="number">${s.station}</b>
            <span class="names">${name(s)}</span>
            <span class="keys">${keys(s)}</span>
          </li>`)}
      </ol>
    </main>`;
}
