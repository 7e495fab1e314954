// The host's plan: rounds, their subjects, times and points.

import { html, useEffect, useState } from './vendor/preact-htm.mjs';
import { Field, Message } from './parts.mjs';
import { StationFields, kindFields } from './plan-stations.mjs';
import { common, host, station } from './words.mjs';

const mostRounds = 20;
const mostText = 60; // characters of a title or a round's name
const largestSeed = Number.MAX_SAFE_INTEGER;
const usualSpeed = 50;

const newRound = {
  name: host.newRound, kind: 'open', subjects: ['skull', 'track', 'scat'],
  count: 8, seconds: 30, points: 100, speed: usualSpeed, penalty: 0, wait: 250, difficulty: 0, typed: false,
};

// PlanForm edits a draft of the stored plan. onSave(plan) and onStart() resolve to the hub's reply.
export function PlanForm({ plan, rosters, onSave, onStart }) {
  const stored = JSON.stringify(plan);
  const [draft, setDraft] = useState(plan);
  const [message, setMessage] = useState('');
  const changed = JSON.stringify(draft) !== stored;
  useEffect(() => setDraft(plan), [stored]);

  const edit = (fields) => setDraft({ ...draft, ...fields });
  const editRound = (i, fields) => edit({ rounds: draft.rounds.map((r, j) => (j === i ? { ...r, ...fields } : r)) });

  async function save() {
    const bare = draft.rounds.findIndex((r) => r.subjects.length === 0);
    if (bare >= 0) {
      setMessage(host.noSubject(bare + 1));
      return false;
    }
    const reply = await onSave(draft);
    setMessage(reply.type === 'done' ? host.saved : reply.message);
    return reply.type === 'done';
  }

  // What is started is what the form shows, so a changed plan is saved first.
  async function submit(event) {
    event.preventDefault();
    const start = event.submitter?.value === 'start';
    if ((changed || !start) && !(await save())) return;
    if (start) await onStart();
  }

  return html`
    <form class="plan" onSubmit=${submit}>
      <h2>${host.plan}</h2>
      <div class="fields">
        <${Text} id="title" label=${host.planTitle} value=${draft.title} onValue=${(title) => edit({ title })} />
        <${Choice} id="roster" label=${host.roster} value=${draft.roster} choices=${rosters.map((r) => [r, r])} onValue=${(roster) => edit({ roster })} />
        <${Count} id="seed" label=${host.seed} hint=${host.seedHint} max=${largestSeed} value=${draft.seed} onValue=${(seed) => edit({ seed })} />
      </div>
      ${draft.rounds.map((r, i) => html`
        <${RoundFields} key=${i} n=${i + 1} round=${r} onEdit=${(fields) => editRound(i, fields)}
          onRemove=${draft.rounds.length > 1 && (() => edit({ rounds: draft.rounds.filter((_, j) => j !== i) }))} />`)}
      <${Message} good=${message === host.saved} text=${changed && message === host.saved ? '' : message} />
      ${changed && html`<p class="hint">${host.unsaved}</p>`}
      <div class="pair">
        <button type="button" disabled=${draft.rounds.length >= mostRounds}
          onClick=${() => edit({ rounds: [...draft.rounds, newRound] })}>${host.addRound}</button>
        <button type="submit" value="save">${host.savePlan}</button>
        <button type="submit" value="start" class="main">${host.actions.start}</button>
      </div>
    </form>`;
}

function RoundFields({ n, round, onEdit, onRemove }) {
  const id = (name) => `round-${n}-${name}`;
  const field = (name) => ({ id: id(name), value: round[name], onValue: (value) => onEdit({ [name]: value }) });
  const kind = html`<${Choice} label=${host.kind} choices=${[...Object.entries(common.kinds), ['station', station.kind]]} ...${field('kind')}
    onValue=${(value) => onEdit(kindFields(round, value))} />`;
  const remove = onRemove && html`<button type="button" onClick=${onRemove}>${host.removeRound(n)}</button>`;
  if (round.kind === 'station') {
    return html`
      <fieldset class="round">
        <legend>${host.roundN(n)}</legend>
        <${StationFields} ...${{ n, round, field, onEdit, kind }} />
        ${remove}
      </fieldset>`;
  }
  return html`
    <fieldset class="round">
      <legend>${host.roundN(n)}</legend>
      <div class="fields">
        <${Text} label=${host.roundName} ...${field('name')} />
        ${kind}
        <${Choice} label=${host.difficulty} choices=${host.difficulties.map((text, i) => [i, text])} ...${field('difficulty')}
          onValue=${(value) => onEdit({ difficulty: Number(value) })} />
        <${Count} label=${host.questions} min="1" max="200" ...${field('count')} />
        <${Count} label=${host.secondsEach} min="3" max="600" ...${field('seconds')} />
        <${Count} label=${host.pointsEach} min="1" max="1000" ...${field('points')} />
        ${round.kind === 'buzz' && html`
          <${Count} label=${host.penalty} max="1000" ...${field('penalty')} />
          <${Count} label=${host.linkWait} hint=${host.linkWaitHint} max="1000" ...${field('wait')} />`}
        ${round.kind === 'open' && round.speed > 0 && html`<${Count} label=${host.speedMost} min="1" max="1000" ...${field('speed')} />`}
      </div>
      <${Subjects} id=${id('subjects')} chosen=${round.subjects} onValue=${(subjects) => onEdit({ subjects })} />
      ${round.kind === 'open' && html`
        <${Check} id=${id('fast')} label=${host.speed} checked=${round.speed > 0}
          onValue=${(on) => onEdit({ speed: on ? usualSpeed : 0 })} />`}
      <${Check} id=${id('typed')} label=${host.typedRound} checked=${round.typed} onValue=${(typed) => onEdit({ typed })} />
      ${remove}
    </fieldset>`;
}

export function Subjects({ id, offered = Object.keys(common.subjects), chosen, onValue }) {
  const toggle = (subject, on) =>
    onValue(offered.filter((s) => (s === subject ? on : chosen.includes(s))));
  return html`
    <div role="group" aria-labelledby=${id} class="checks">
      <span id=${id}>${host.subjects}</span>
      ${offered.map((subject) => html`
        <${Check} key=${subject} id=${`${id}-${subject}`} label=${common.subjects[subject]} checked=${chosen.includes(subject)}
          onValue=${(on) => toggle(subject, on)} />`)}
    </div>`;
}

function Check({ id, label, checked, onValue }) {
  return html`
    <label class="check" for=${id}>
      <input id=${id} type="checkbox" checked=${checked} onChange=${(e) => onValue(e.target.checked)} />
      <span>${label}</span>
    </label>`;
}

export function Text({ id, label, value, onValue }) {
  return html`
    <${Field} id=${id} label=${label}>
      <input id=${id} value=${value} maxlength=${mostText} autocomplete="off" onInput=${(e) => onValue(e.target.value)} />
    <//>`;
}

export function Count({ id, label, hint, value, onValue, min = 0, max }) {
  return html`
    <${Field} id=${id} label=${label} hint=${hint}>
      <input id=${id} type="number" inputmode="numeric" required min=${min} max=${max} step="1" value=${value}
        onInput=${(e) => onValue(Number.isNaN(e.target.valueAsNumber) ? '' : e.target.valueAsNumber)} />
    <//>`;
}

export function Choice({ id, label, value, choices, onValue }) {
  return html`
    <${Field} id=${id} label=${label}>
      <select id=${id} onChange=${(e) => onValue(e.target.value)}>
        ${choices.map(([v, text]) => html`<option key=${v} value=${v} selected=${v === value}>${text}</option>`)}
      </select>
    <//>`;
}
