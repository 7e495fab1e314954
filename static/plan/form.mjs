// The host's plan: rounds, their subjects, times and points.

import { html, useState } from '../vendor/preact-htm.mjs';
import { languages } from '../lib/language.mjs';
import { Check, Choice, Count, Subjects, Text, longestSeason } from '../parts/fields.mjs';
import { Message } from '../parts/parts.mjs';
import { club } from '../words/club.mjs';
import { common, hub } from '../words/common.mjs';
import { host } from '../words/host.mjs';
import { planning } from '../words/planning.mjs';
import { station } from '../words/station.mjs';
import { durationOf } from './duration.mjs';
import { StationFields, kindFields } from './stations.mjs';

const mostRounds = 20;
const largestSeed = Number.MAX_SAFE_INTEGER;
const leastUnguessable = 1e12; // below, all seeds can be tried in hours on a desk
const usualSpeed = 50;
const english = 'en'; // in a plan it goes without saying

const newRound = {
  name: host.newRound, kind: 'open', subjects: ['skull', 'track', 'scat'],
  count: 8, seconds: 30, points: 100, speed: usualSpeed, penalty: 0, wait: 250, difficulty: 0, typed: false,
};

// Fields of a round by which its questions are computed.
const computing = ['subjects', 'count', 'difficulty', 'typed'];

// PlanForm edits a draft of the stored plan. onSave(plan) and onStart() resolve
// to the hub's reply; below() draws what is beneath the form, and is told how
// the draft stands.
export function PlanForm({ plan, rosters, languages: offered = [], onSave, onStart, below }) {
  const stored = JSON.stringify(plan);
  const [edited, setEdited] = useState({ of: stored, draft: hub.plan(plan, offered) }); // a draft is of one stored plan
  const draft = edited.of === stored ? edited.draft : hub.plan(plan, offered);
  const setDraft = (changes) => setEdited({ of: stored, draft: changes });
  const [message, setMessage] = useState('');
  const changed = JSON.stringify(draft) !== stored;

  const edit = (fields) => setDraft({ ...draft, ...fields });
  const editRound = (i, fields) => edit({ rounds: draft.rounds.map((r, j) => (j === i ? { ...r, ...fields } : r)) });
  const wish = { ...draft, rounds: draft.rounds.map((r) => (keeps(r, draft, plan) ? r : { ...r, set: undefined })) };
  const lost = plan.rounds.some(({ set }) => set && !wish.rounds.some((r) => r.set === set));
  const ready = () => !changed || save();

  async function save() {
    const bare = draft.rounds.findIndex((r) => r.subjects.length === 0);
    if (bare >= 0) {
      setMessage(host.noSubject(bare + 1));
      return false;
    }
    const reply = await onSave(wish);
    setMessage(reply.type === 'done' ? host.saved : hub.refused(reply));
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
        ${offered.length > 1 && html`<${Choice} id="language" label=${planning.language} value=${draft.language ?? english}
          choices=${offered.map((tag) => [tag, languages[tag]])} onValue=${(tag) => edit({ language: tag === english ? undefined : tag })} />`}
        <${Count} id="seed" label=${host.seed} hint=${guessable(draft.seed) ? planning.seedGuessable : host.seedHint} max=${largestSeed} value=${draft.seed} onValue=${(seed) => edit({ seed })} />
        <${Check} id="no-memory" label=${planning.noMemory} checked=${draft.noMemory ?? false} onValue=${(on) => edit({ noMemory: on || undefined })} />
        <${Text} id="season" label=${club.countIn} hint=${club.countInHint} most=${longestSeason} value=${draft.season ?? ''} onValue=${(season) => edit({ season })} />
      </div>
      ${wish.rounds.map((r, i) => html`
        <${RoundFields} key=${i} n=${i + 1} round=${r} onEdit=${(fields) => editRound(i, fields)}
          onRemove=${draft.rounds.length > 1 && (() => edit({ rounds: draft.rounds.filter((_, j) => j !== i) }))} />`)}
      <${Duration} rounds=${draft.rounds} />
      <${Message} good=${message === host.saved} text=${changed && message === host.saved ? '' : message} />
      ${changed && html`<p class="hint">${host.unsaved} ${lost && planning.lost}</p>`}
      <div class="pair">
        <button type="button" disabled=${draft.rounds.length >= mostRounds}
          onClick=${() => edit({ rounds: [...draft.rounds, newRound] })}>${host.addRound}</button>
        <button type="submit" value="save">${host.savePlan}</button>
        <button type="submit" value="start" class="main">${host.actions.start}</button>
      </div>
    </form>
    ${below({ title: draft.title, changed, ready })}`;
}

// guessable holds for a seed as people type them; 0 draws one.
const guessable = (seed) => seed > 0 && seed < leastUnguessable;

// keeps tells whether a round still asks for the questions that the host has chosen.
function keeps(round, draft, plan) {
  const stored = plan.rounds.find(({ set }) => set === round.set);
  return stored && draft.roster === plan.roster && draft.seed === plan.seed && draft.language === plan.language && draft.noMemory === plan.noMemory
    && computing.every((name) => JSON.stringify(round[name]) === JSON.stringify(stored[name]))
    && JSON.stringify(laidOut(round)) === JSON.stringify(laidOut(stored));
}

// laidOut is what stations there are, however long the walk between them.
const laidOut = ({ station: own }) => own && { ...own, walk: 0 };

function Duration({ rounds }) {
  const range = durationOf(rounds);
  return range && html`<p class="duration"><b>${planning.duration(range.least, range.most)}</b> <span class="hint">${planning.durationHint}</span></p>`;
}

function RoundFields({ n, round, onEdit, onRemove }) {
  const id = (name) => `round-${n}-${name}`;
  const field = (name) => ({ id: id(name), value: round[name], onValue: (value) => onEdit({ [name]: value }) });
  const kind = html`<${Choice} label=${host.kind} choices=${[...Object.entries(common.kinds), ['station', station.kind]]} ...${field('kind')}
    onValue=${(value) => onEdit(kindFields(round, value))} />`;
  const chosen = round.set && html`<p class="hint">${planning.chosen}</p>`;
  const remove = onRemove && html`<button type="button" onClick=${onRemove}>${host.removeRound(n)}</button>`;
  if (round.kind === 'station') {
    return html`
      <fieldset class="round">
        <legend>${host.roundN(n)}</legend>
        ${chosen}
        <${StationFields} ...${{ n, round, field, onEdit, kind }} />
        ${remove}
      </fieldset>`;
  }
  return html`
    <fieldset class="round">
      <legend>${host.roundN(n)}</legend>
      ${chosen}
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
