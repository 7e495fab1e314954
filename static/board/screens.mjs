// What the projector shows. It must be read from the back row, so each screen
// carries little, and as large as there is room for.

import { html } from '../vendor/preact-htm.mjs';
import { Desk, Joining } from './desk.mjs';
import { Fit } from './fit.mjs';
import { Head } from './head.mjs';
import { Countdown } from '../parts/clock.mjs';
import { Because, Lesson, Tally, tagOf, teaches } from '../parts/lesson.mjs';
import { Announcer, Banners, Options, Plate, Sign, Spot, Told, tied } from '../parts/parts.mjs';
import { Rotation } from './station.mjs';
import { common, hub } from '../words/common.mjs';
import { ready } from '../words/station.mjs';
import { board } from '../words/board.mjs';

const oneColumn = 10; // teams; more take two columns
const few = 5; // that take larger type

export function BoardScreen({ state, link, address = state.joinAt || location.host }) {
  const Screen = screens[state.phase];
  return html`
    <${Banners} link=${link} state=${state} />
    <${Announcer} state=${state} />
    <${Screen} state=${state} address=${address} />
    <${Desk} state=${state} address=${address} />`;
}

const adorned = 8; // teams; more take all the room
const spots = ['raccoon-print', 'fox-skull', 'otter-print'];

// Lobby: a specimen's tag with the way in, and the sheet on which teams sign,
// with a line for the next.
function Lobby({ state, address }) {
  const names = state.names ?? [];
  const columns = names.length > 2 * oneColumn ? 3 : names.length > 4 ? 2 : 1;
  return html`
    <${Fit} kind="lobby">
      <section class="way-in"><div class="sign-in"><${Joining} state=${state} address=${address} /></div></section>
      <section class="here">
        <h1>${hub.title(state.title) || common.name}</h1>
        <h2>${names.length === 0 ? board.noTeams : board.hereNow(state.teams)}</h2>
        <ol class=${columns > 2 ? 'names many' : 'names'} style=${{ '--rows': Math.ceil((names.length + 1) / columns) }}>${names.map((n) => html`<li key=${n}>${n}</li>`)}<li aria-hidden="true" class="next"></li></ol>
        ${names.length <= adorned && html`<p class="spots">${spots.map((name) => html`<${Spot} key=${name} name=${name} />`)}</p>`}
      </section>
    <//>`;
}

function Question({ state, address }) {
  const { question, buzz } = state;
  const drawn = question.plates?.length > 0 ? 'four' : question.plate ? 'beside' : '';
  return html`
    <${Head} state=${state} address=${address} />
    <${Fit} kind=${`question ${drawn}`} most=${drawn === 'four' ? 5 : undefined}>
      <h1><${Told} text=${question.prompt} /></h1>
      <${Plate} question=${question} />
      ${question.typed ? html`<p class="typed">${board.typed}</p>` : html`<${Options} question=${question} />`}
      <footer>
        ${buzz ? html`<${BuzzLine} buzz=${buzz} />` : html`<p>${board.answered(state.answered, state.teams)}</p>`}
        <${Countdown} state=${state} />
      </footer>
    <//>`;
}

function BuzzLine({ buzz }) {
  return html`
    <p class="buzz-line">
      <b class=${buzz.team ? 'held' : ''}>${buzz.team ? board.holds(buzz.name) : board.free}</b>
      <${LockedOut} buzz=${buzz} />
    </p>
    ${buzz.drawn && html`<p class="drawn">${common.drawn(buzz.drawn)}</p>`}`;
}

// LockedOut names who is, and whether by a wrong answer or by the clock.
function LockedOut({ buzz: { out = [], late = [], locked } }) {
  const more = locked - out.length - late.length;
  return html`
    ${out.length > 0 && html`<span><${Sign} kind="wrong" /> ${board.wrong(out)}</span>`}
    ${late.length > 0 && html`<span>${board.late(late)}</span>`}
    ${more > 0 && html`<span>${board.moreOut(more)}</span>`}`;
}

// Revealed: where drawings tell the key from what was taken for it, they and
// their two lines are the reason.
function Revealed({ state, address }) {
  const { question, reveal } = state;
  const lesson = teaches(reveal.lesson) ? reveal.lesson : null;
  const photo = question.credit ? question : null;
  const kind = lesson ? `taught ${lesson.sides.length > 1 ? 'two' : 'single'} ${photo ? 'photo' : ''}` : `question ${question.plates?.length > 0 ? 'four' : question.plate ? 'beside' : ''}`;
  return html`
    <${Head} state=${state} address=${address} />
    <${Fit} kind=${kind} most=${lesson ? 6.2 : undefined}>
      <h1><${Told} text=${question.prompt} /></h1>
      ${lesson
        ? html`${photo && html`<${Plate} question=${photo} />`}<${Lesson} lesson=${lesson} tag=${tagOf(question, reveal)} />`
        : html`<${Plate} question=${question} />`}
      <${Tally} question=${question} reveal=${reveal} />
      <div class="why"><${Reason} reveal=${lesson?.sides[0].says ? { ...reveal, reason: '' } : reveal} /></div>
    <//>`;
}

function Reason({ reveal }) {
  return html`
    ${reveal.skipped && html`<p class="note">${common.skipped}</p>`}
    ${reveal.undone && html`<p class="note">${common.undone}</p>`}
    <${Because} reason=${reveal.reason} />`;
}

// Ranking: bars by score, with what the round gave; places moved are told by an
// arrow and a number. Cut into columns rather than flowed, so that a screen
// reader meets the teams in order. The longest name makes room for itself in
// both columns, so that their bars can be compared.
function Ranking({ state, address }) {
  const { leaders, phase, round } = state;
  const rows = leaders.length > oneColumn ? Math.ceil(leaders.length / 2) : leaders.length;
  const columns = [leaders.slice(0, rows), leaders.slice(rows)].filter((c) => c.length > 0);
  const top = Math.max(1, ...leaders.map((l) => l.score));
  const told = leaders.some((l) => l.before > 0);
  const letters = Math.max(...leaders.map((l) => l.name.length));
  return html`
    <${Head} state=${state} address=${address} />
    <${Fit} kind="ranks" most=${leaders.length > few ? 6.5 : 9}>
      <header>
        <h1>${phase !== 'ended' ? board.afterRound(round) : leaders.length > 1 ? board.first(leaders.filter((l) => l.rank === 1).map((l) => l.name)) : board.final}</h1>
        ${told && html`<p class="meaning"><span class="swatch before"></span> ${board.before} <span class="swatch"></span> ${board.thisRound}</p>`}
      </header>
      <div class="columns" ref=${(el) => el?.style.setProperty('--letters', letters)}>${columns.map((c) => html`<${Ranks} key=${c[0].team} leaders=${c} top=${top} told=${told} />`)}</div>
      <footer>
        <p>${phase === 'ended' ? board.over : board.next(round.n + 1, round.of)}</p>
        ${tied(leaders) && html`<p class="fine">${common.tieRule}</p>`}
      </footer>
    <//>`;
}

function Ranks({ leaders, top, told }) {
  return html`
    <table class="leaders" role="table">
      <thead class="heard" role="rowgroup"><tr role="row">
        <th scope="col" role="columnheader">${common.rank}</th><th scope="col" role="columnheader">${board.moved}</th><th scope="col" role="columnheader">${common.team}</th><th scope="col" role="columnheader">${board.thisRound}</th><th scope="col" role="columnheader">${common.score}</th>
      </tr></thead>
      <tbody role="rowgroup">
        ${leaders.map((l) => html`
          <tr role="row" key=${l.team} class=${l.rank === 1 ? 'first' : ''}>
            <td role="cell" class="rank">${l.rank}</td><td role="cell" class="moved">${told && html`<${Moved} line=${l} />`}</td><th scope="row" role="rowheader">${l.name}</th>
            <td role="cell" class="bars"><span class="heard">${l.score - (l.before ?? 0)}</span><span class="bar" aria-hidden="true"
              ref=${(el) => { el?.style.setProperty('--before', Math.max(0, Math.min(l.before ?? 0, l.score)) / top); el?.style.setProperty('--part', Math.max(0, l.score) / top); }}></span></td>
            <td role="cell" class="number">${l.score}</td>
          </tr>`)}
      </tbody>
    </table>`;
}

function Moved({ line }) {
  const by = line.was ? line.was - line.rank : 0;
  if (by === 0) return null;
  return html`<span class=${by > 0 ? 'up' : 'down'} aria-hidden="true"></span><span class="heard">${by > 0 ? board.up(by) : board.down(-by)}</span><span aria-hidden="true">${Math.abs(by)}</span>`;
}

// Ready names a round and says its rule before its clock runs.
function Ready({ state, address }) {
  const { round } = state;
  return html`
    <${Head} state=${state} address=${address} />
    <${Fit} kind="ready">
      <h1>${ready.title(round.n)}</h1>
      <p>${state.sides ? state.sides.join(' – ') : hub.title(round.name)}</p>
      <p class="rule">${ready.rule(round)}</p>
      <p class="fine">${[common.kinds[round.kind], board.questions(round.questions), ready.points(round)].join(' · ')}</p>
    <//>`;
}

const screens = { lobby: Lobby, ready: Ready, asking: Question, buzzed: Question, revealed: Revealed, walk: Rotation, station: Rotation, marked: Rotation, break: Ranking, ended: Ranking };
