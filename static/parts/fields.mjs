// Labelled fields of the host's and the learner's forms.

import { html } from '../vendor/preact-htm.mjs';
import { Field } from './parts.mjs';
import { common } from '../words/common.mjs';

// bounds are the rules' own (package game), whose test TestBoundsOfThePages compares them.
export const bounds = {
  season: 40, title: 60, // characters
  rounds: 20, questions: 200, points: 1000,
  leastSeconds: 3, seconds: 600, wait: 1000,
  leastStations: 2, stations: 20, each: 5,
};

// usualSubjects are those of a round until its host chooses others.
export const usualSubjects = ['skull', 'track', 'scat'];

// drawnSubjects are those that are drawn: what stations have, and a season plans.
export const drawnSubjects = Object.keys(common.subjects).filter((s) => !['foodweb', 'management', 'specimen'].includes(s));

// paperSizes have names of their own; Letter is the usual one where it is sold.
export const paperSizes = [['a4', 'A4'], ['letter', 'Letter']];
export const usualPaper = /-(US|CA|MX)$/i.test(navigator.language) ? 'letter' : 'a4';

export function Subjects({ id, offered = Object.keys(common.subjects), chosen, onValue }) {
  const toggle = (subject, on) =>
    onValue(offered.filter((s) => (s === subject ? on : chosen.includes(s))));
  return html`
    <div role="group" aria-labelledby=${id} class="checks">
      <span id=${id}>${common.subjectsLabel}</span>
      ${offered.map((subject) => html`
        <${Check} key=${subject} id=${`${id}-${subject}`} label=${common.subjects[subject]} checked=${chosen.includes(subject)}
          onValue=${(on) => toggle(subject, on)} />`)}
    </div>`;
}

export function Check({ id, label, checked, onValue }) {
  return html`
    <label class="check" for=${id}>
      <input id=${id} type="checkbox" checked=${checked} onChange=${(e) => onValue(e.target.checked)} />
      <span>${label}</span>
    </label>`;
}

export function Text({ id, label, hint, value, onValue, most = bounds.title }) {
  return html`
    <${Field} id=${id} label=${label} hint=${hint}>
      <input id=${id} value=${value} maxlength=${most} autocomplete="off" onInput=${(e) => onValue(e.target.value)} />
    <//>`;
}

export function Count({ id, label, hint, value, onValue, min = 0, max }) {
  return html`
    <${Field} id=${id} label=${label} hint=${hint}>
      <input id=${id} type="number" inputmode="numeric" required min=${min} max=${max} step="1" value=${value}
        onInput=${(e) => onValue(Number.isNaN(e.target.valueAsNumber) ? '' : e.target.valueAsNumber)} />
    <//>`;
}

export function Choice({ id, label, hint, value, choices, onValue }) {
  return html`
    <${Field} id=${id} label=${label} hint=${hint}>
      <select id=${id} aria-describedby=${hint && `${id}-hint`} onChange=${(e) => onValue(e.target.value)}>
        ${choices.map(([v, text]) => html`<option key=${v} value=${v} selected=${v === value}>${text}</option>`)}
      </select>
    <//>`;
}
