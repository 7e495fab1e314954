// A plan's rounds: a line for each, and behind Change what it can be made of.

import { html } from '../vendor/preact-htm.mjs';
import { Check, Choice, Count, bounds, Subjects, Text } from '../parts/fields.mjs';
import { common } from '../words/common.mjs';
import { host } from '../words/host.mjs';
import { planning, rounds as words } from '../words/planning.mjs';
import { station } from '../words/station.mjs';
import { nameOf } from './recipes.mjs';
import { StationFields, kindFields } from './stations.mjs';

const usualSpeed = 50;

export const kinds = { ...common.kinds, station: station.kind };

export function RoundLine({ n, round, onEdit, onRemove }) {
  return html`
    <li>
      <details class="round">
        <summary>
          <b class="n">${n}</b>
          <span><span class="name">${round.name}</span> <span class="hint">${words.line(round, kinds[round.kind].toLowerCase())}</span></span>
          <span class="act">${words.change}</span>
        </summary>
        <div role="group" aria-label=${host.roundN(n)}>
          ${round.kind === 'station' ? html`<${Stations} ...${{ n, round, onEdit }} />` : html`<${Fields} ...${{ n, round, onEdit }} />`}
        </div>
      </details>
      ${onRemove && html`<button type="button" class="plain" aria-label=${host.removeRound(n)} onClick=${onRemove}>${words.remove}</button>`}
      ${round.set && html`<p class="hint">${planning.chosen}</p>`}
    </li>`;
}

const fieldsOf = ({ n, round, onEdit }) => (name) => ({ id: `round-${n}-${name}`, value: round[name], onValue: (value) => onEdit({ [name]: value }) });

function Kind({ round, field, onEdit }) {
  return html`<${Choice} label=${host.kind} choices=${Object.entries(kinds)} ...${field('kind')} onValue=${(kind) => onEdit(kindFields(round, kind))} />`;
}

function Stations(props) {
  const field = fieldsOf(props);
  return html`<${StationFields} ...${props} field=${field} kind=${html`<${Kind} ...${props} field=${field} />`} />`;
}

function Fields(props) {
  const { n, round, onEdit } = props;
  const id = (name) => `round-${n}-${name}`;
  const field = fieldsOf(props);
  return html`
    <div class="fields">
      <${Text} label=${host.roundName} ...${field('name')} />
      <${Kind} ...${props} field=${field} />
      <${Count} label=${host.questions} min="1" max=${bounds.questions} ...${field('count')} />
      <${Count} label=${host.secondsEach} min=${bounds.leastSeconds} max=${bounds.seconds} ...${field('seconds')} />
      <${Choice} label=${host.difficulty} choices=${host.difficulties.map((text, i) => [i, text])} ...${field('difficulty')}
        onValue=${(value) => onEdit({ difficulty: Number(value) })} />
      ${round.drawings !== undefined && html`<${Choice} label=${words.drawings} choices=${Object.entries(words.drawn)} ...${field('drawings')} />`}
    </div>
    <${Subjects} id=${id('subjects')} chosen=${round.subjects} onValue=${(subjects) => onEdit({ subjects, name: round.name === nameOf(round.subjects) ? nameOf(subjects) : round.name })} />
    <${Check} id=${id('typed')} label=${host.typedRound} checked=${round.typed} onValue=${(typed) => onEdit({ typed })} />
    <details class="rarer">
      <summary>${words.points}</summary>
      <div class="fields">
        <${Count} label=${host.pointsEach} min="1" max=${bounds.points} ...${field('points')} />
        ${round.kind === 'buzz' && html`
          <${Count} label=${host.penalty} max=${bounds.points} ...${field('penalty')} />
          <${Count} label=${host.linkWait} hint=${host.linkWaitHint} max=${bounds.wait} ...${field('wait')} />`}
        ${round.kind === 'open' && round.speed > 0 && html`<${Count} label=${host.speedMost} min="1" max=${bounds.points} ...${field('speed')} />`}
      </div>
      ${round.kind === 'open' && html`
        <${Check} id=${id('fast')} label=${host.speed} checked=${round.speed > 0} onValue=${(on) => onEdit({ speed: on ? usualSpeed : 0 })} />`}
    </details>`;
}
