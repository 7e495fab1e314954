// What a team's phone shows in a station round: where to go, the questions of
// its own station, and after the round what was right.

import { html, useState } from '../vendor/preact-htm.mjs';
import { Because, Specimen, keyMark } from '../parts/lesson.mjs';
import { Heading, Message, Options, Told } from '../parts/parts.mjs';
import { Enlarged } from '../parts/enlarge.mjs';
import { named } from '../lib/species.mjs';
import { StationClock } from '../parts/station-clock.mjs';
import { common, hub } from '../words/common.mjs';
import { station } from '../words/station.mjs';
import { team } from '../words/team.mjs';

function Where({ state }) {
  return html`<p class="where">${common.round(state.round)}. ${state.rotation.turn > 0 && station.rotation(state.rotation)}</p>`;
}

// Walk says where to go. Behind lies what is locked.
export function Walk({ state, you }) {
  const at = you.station?.station;
  const first = state.rotation.turn === 0;
  const behind = at === 1 ? state.rotation.of : at - 1;
  return html`
    <${Where} state=${state} />
    <${Heading}>
      <span class="goto">${first ? station.startAt : station.goTo}</span> <span class="goto number">${station.at(at)}</span>
    <//>
    <${StationClock} state=${state} />
    <div class="say" role="status"><p>${first ? station.startMore : station.locked(behind)}</p></div>`;
}

// Visit is the answer sheet of a station. onStation(question, option) resolves
// to the hub's reply.
export function Visit({ state, you, onStation }) {
  const here = you.station;
  const [sent, setSent] = useState({}); // by question: the option on its way
  const [message, setMessage] = useState('');
  if (!here || here.turn !== state.rotation.turn || here.questions.length === 0) return html`<${Walk} state=${state} you=${you} />`;

  async function pick(question, option) {
    setSent((old) => ({ ...old, [question]: option }));
    setMessage('');
    const reply = await onStation(question, option);
    setSent((old) => (old[question] === option ? { ...old, [question]: undefined } : old));
    if (reply.type === 'refused') setMessage(hub.refused(reply));
  }

  const filled = here.options.filter((o) => o >= 0).length;
  return html`
    <${Where} state=${state} />
    <${Heading}>${station.at(here.station)}<//>
    <${StationClock} state=${state} />
    ${here.plate && html`<${Enlarged} plate=${here} />`}
    ${here.replica && html`<p class="note">${station.replica}</p>`}
    <div class="say"><p>${state.paused ? team.paused : station.change}</p><p role="status">${station.filled(filled, here.questions.length)}</p></div>
    <${Message} text=${message} />
    ${here.questions.map((q, i) => html`
      <${Asked} key=${q.id} question=${q} stored=${here.options[i]} sending=${sent[q.id]} onPick=${state.paused ? undefined : (option) => pick(q.id, option)} />`)}`;
}

function Asked({ question, stored, sending, onPick }) {
  const chosen = sending ?? stored;
  const label = sending === undefined ? station.yours : station.saving;
  return html`
    <section class="asked">
      <h2>${question.n}. <${Told} text=${question.prompt} /></h2>
      <${Options} question=${question} mark=${(i) => (i === chosen ? { text: label, kind: 'own' } : null)} choose onPick=${onPick} />
    </section>`;
}

// Marked is the sheet as it came back, station by station.
export function Marked({ state, you }) {
  const sheet = you.station?.sheet ?? [];
  const all = state.rotation.told.flatMap((s) => s.questions);
  const counting = all.filter((q) => q.key >= 0);
  const right = counting.filter((q) => sheet[q.n - 1] === q.key).length;
  return html`
    <${Where} state=${state} />
    <${Heading}>${station.over}<//>
    <p class="title">${station.result(right, counting.length)}. ${team.standing(you.rank, you.score)}</p>
    ${state.rotation.told.map((s) => html`
      <section class="asked" key=${s.station}>
        <h2>${station.at(s.station)}: ${station.specimen(named(s.animal), s.subject)}</h2>
        ${s.plate && html`<${Specimen} specimen=${s} />`}
        ${s.questions.map((q) => html`<${Result} key=${q.id} question=${q} option=${sheet[q.n - 1] ?? -1} />`)}
      </section>`)}`;
}

function Result({ question, option }) {
  const own = option >= 0 ? { option, label: station.yours } : null;
  return html`
    <h3>${question.n}. <${Told} text=${question.prompt} /></h3>
    ${question.key < 0 && html`<p class="note">${station.voided}</p>`}
    ${option < 0 && html`<p class="hint">${station.unanswered}</p>`}
    <${Options} question=${question} mark=${keyMark(question.key, own)} />
    <${Because} reason=${question.reason} />`;
}
