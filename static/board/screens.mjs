// What the projector shows. It must be read from the back row, so each screen
// carries little, and large.

import { html } from '../vendor/preact-htm.mjs';
import { Countdown } from '../parts/clock.mjs';
import { Announcer, Banners, Leaders, Options, Plate, Reason, Told, keyMark } from '../parts/parts.mjs';
import { Rotation } from './station.mjs';
import { named } from '../lib/species.mjs';
import { board } from '../words/board.mjs';
import { common, hub } from '../words/common.mjs';

const oneColumn = 10; // teams; more take two columns
const manyTeams = 20; // more take tighter rows
const rowLetters = 20; // what a row takes besides its text, in letters
const roomyLetters = 270;
const narrower = 1.5; // what a plate beside them does to lines
const denseLetters = 460;

export function BoardScreen({ state, link, address = state.joinAt || location.host }) {
  const Screen = screens[state.phase];
  return html`
    <${Banners} link=${link} state=${state} />
    <${Announcer} state=${state} />
    <${Screen} state=${state} address=${address} />`;
}

function Lobby({ state, address }) {
  const names = state.names ?? [];
  return html`
    <main class="lobby">
      <div class="ask">
        <p>${board.open} <b class="address">${address}</b> ${board.enter}</p>
        <p class="code">${state.code}</p>
      </div>
      <div class="scan">
        <h1>${hub.title(state.title) || common.name}</h1>
        <img class="qr" src=${`/qr.svg?game=${encodeURIComponent(state.code)}`} alt=${board.qrAlt} />
        <p>${board.scan}</p>
      </div>
      <div class="here">
        <h2>${common.teams(state.teams)}</h2>
        ${names.length === 0 && html`<p>${board.noTeams}</p>`}
        <ul class=${`names ${crowd(names.length)}`}>${names.map((n) => html`<li key=${n}>${n}</li>`)}</ul>
      </div>
    </main>`;
}

function crowd(n) {
  return n > manyTeams ? 'many' : n > oneColumn ? '' : 'few';
}

function Head({ state }) {
  return html`
    <header class="strip">
      <span>${common.round(state.round)}</span>
      <span>${common.question(state.question, state.round)}</span>
      <span class="code">${state.code}</span>
    </header>`;
}

// A short question is set larger, a long one tighter, so that each fills the
// screen and none leaves it.
function layout(question, reason = '') {
  const rows = question.options.reduce((sum, text) => sum + named(text).length + rowLetters, 0);
  const letters = question.prompt.length + rows + reason.length;
  const narrow = question.plate ? narrower : 1;
  const size = question.plates?.length > 0 ? 'four' : letters * narrow < roomyLetters ? 'roomy' : letters > denseLetters ? 'dense' : '';
  return `question ${size} ${question.plate ? 'with-plate' : ''} ${reason ? 'told' : ''}`;
}

function Question({ state }) {
  const { question, buzz } = state;
  return html`
    <${Head} state=${state} />
    <main class=${layout(question)}>
      <h1><${Told} text=${question.prompt} /></h1>
      <${Plate} question=${question} />
      ${question.typed ? html`<p class="reason">${board.typed}</p>` : html`<${Options} question=${question} />`}
      <footer>
        ${buzz ? html`<${BuzzLine} buzz=${buzz} />` : html`<p>${board.answered(state.answered, state.teams)}</p>`}
        <${Countdown} state=${state} />
      </footer>
    </main>`;
}

function BuzzLine({ buzz }) {
  return html`
    <p class="buzz-line">
      <b>${buzz.team ? board.holds(buzz.name) : board.free}</b>
      ${buzz.locked > 0 && html`<span>${board.locked(buzz.locked)}</span>`}
    </p>
    ${buzz.drawn && html`<p class="drawn">${common.drawn(buzz.drawn)}</p>`}`;
}

function Revealed({ state }) {
  const { question, reveal } = state;
  return html`
    <${Head} state=${state} />
    <main class=${layout(question, reveal.reason)}>
      <h1><${Told} text=${question.prompt} /></h1>
      <${Plate} question=${question} />
      <${Options} question=${question} mark=${keyMark(reveal, null, true)} />
      <div class="why"><${Reason} reveal=${reveal} /></div>
    </main>`;
}

// The table is cut into columns rather than flowed, so that each has its own
// head and a screen reader meets them in order of rank.
function Ranking({ state }) {
  const { leaders, phase, round } = state;
  const rows = leaders.length > oneColumn ? Math.ceil(leaders.length / 2) : leaders.length;
  const columns = [leaders.slice(0, rows), leaders.slice(rows)].filter((c) => c.length > 0);
  return html`
    <main class="ranking">
      <header>
        <h1>${phase === 'ended' ? board.final : board.afterRound(round)}</h1>
        <p>${common.tieRule}</p>
      </header>
      <div class=${`columns ${crowd(leaders.length)}`}>
        ${columns.map((c) => html`<${Leaders} key=${c[0].team} leaders=${c} />`)}
      </div>
    </main>`;
}

const screens = { lobby: Lobby, asking: Question, buzzed: Question, revealed: Revealed, walk: Rotation, station: Rotation, marked: Rotation, break: Ranking, ended: Ranking };
