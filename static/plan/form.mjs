// The host's plan. What is played comes first; all else is folded. The form is
// sent from the bar beneath the page, which is always in sight.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { languages } from '../lib/language.mjs';
import { Check, Choice, Count, bounds, Text } from '../parts/fields.mjs';
import { Message } from '../parts/parts.mjs';
import { club } from '../words/club.mjs';
import { hub } from '../words/common.mjs';
import { host } from '../words/host.mjs';
import { planning, recipes as recipeWords, rounds as roundWords } from '../words/planning.mjs';
import { durationOf } from './duration.mjs';
import { Recipes, newRound } from './recipes.mjs';
import { Rosters } from './rosters.mjs';
import { RoundLine } from './rounds.mjs';

const largestSeed = Number.MAX_SAFE_INTEGER;
const leastUnguessable = 1e12; // below, all seeds can be tried in hours on a desk
const english = 'en'; // in a plan it goes without saying
const formID = 'plan';

// Fields of a round by which its questions are computed.
const computing = ['subjects', 'count', 'difficulty', 'typed', 'drawings'];

// usePlan is a draft of the stored plan. onSave(plan) and onStart() resolve to
// the hub's reply. What it refused goes once there are other teams.
export function usePlan({ plan, languages: offered = [], teams, onSave, onStart }) {
  const stored = JSON.stringify(plan);
  const [edited, setEdited] = useState({ of: stored, draft: hub.plan(plan, offered) }); // a draft is of one stored plan
  const draft = edited.of === stored ? edited.draft : hub.plan(plan, offered);
  const [message, setMessage] = useState('');
  useEffect(() => setMessage(''), [teams]);
  const changed = JSON.stringify(draft) !== stored;
  const edit = (fields) => setEdited({ of: stored, draft: { ...draft, ...fields } });
  const wish = { ...draft, rounds: draft.rounds.map((r) => (keeps(r, draft, plan) ? r : { ...r, set: undefined })) };
  const lost = plan.rounds.some(({ set }) => set && !wish.rounds.some((r) => r.set === set));

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
    if (!start) return;
    const reply = await onStart();
    setMessage(reply.type === 'refused' ? hub.refused(reply) : '');
  }

  const said = changed && message === host.saved ? '' : message;
  return { draft, wish, changed, lost, said, edit, submit, ready: () => !changed || save() };
}

// PlanForm: stored is the hub's plan, plan what usePlan gives of it, onHub(method, address) resolves to the
// hub's answer.
export function PlanForm({ match = false, stored, plan: { draft, wish, edit, submit }, rosters, languages: offered = [], onHub }) {
  const editRound = (i, fields) => edit({ rounds: draft.rounds.map((r, j) => (j === i ? { ...r, ...fields } : r)) });
  const drawings = draft.rounds.some((r) => r.drawings !== undefined); // this hub knows of them
  const withDrawings = (r) => (drawings ? { drawings: 'half', ...r } : r);
  const choose = html`
    <${Recipes} rounds=${wish.rounds} ...${{ stored, drawings }} complete=${withDrawings} onRounds=${(rounds) => edit({ rounds })} />
    <${Rosters} names=${rosters} chosen=${draft.roster} onHub=${onHub} onValue=${(roster) => edit({ roster })} />`;
  return html`
    <form class="plan" id=${formID} onSubmit=${submit} onInvalidCapture=${unfold}>
      <h2>${match ? recipeWords.match : recipeWords.title}</h2>
      ${match ? html`<details class="rarer"><summary>${recipeWords.instead}</summary>${choose}</details>` : choose}
      ${offered.length > 1 && html`<div class="asked-in"><${Choice} id="language" label=${planning.language} hint=${planning.languageHint} value=${draft.language ?? english}
        choices=${offered.map((tag) => [tag, languages[tag]])} onValue=${(tag) => edit({ language: tag === english ? undefined : tag })} /></div>`}
      <section class="rounds" aria-labelledby="rounds">
        <h2 id="rounds">${roundWords.title}</h2>
        <ol>
          ${wish.rounds.map((r, i) => html`
            <${RoundLine} key=${i} n=${i + 1} round=${r} onEdit=${(fields) => editRound(i, fields)}
              onRemove=${draft.rounds.length > 1 && (() => edit({ rounds: draft.rounds.filter((_, j) => j !== i) }))} />`)}
        </ol>
        <p class="after">
          <button type="button" class="plain" disabled=${draft.rounds.length >= bounds.rounds}
            onClick=${() => edit({ rounds: [...draft.rounds, withDrawings(newRound)] })}>${host.addRound}</button>
          <${Duration} rounds=${draft.rounds} />
        </p>
      </section>
      <details class="rarer">
        <summary>${planning.more}</summary>
        <div class="fields">
          <${Text} id="title" label=${host.planTitle} value=${draft.title} onValue=${(title) => edit({ title })} />
          <${Text} id="season" label=${club.countIn} hint=${club.countInHint} most=${bounds.season} value=${draft.season ?? ''} onValue=${(season) => edit({ season })} />
          <${Count} id="seed" label=${host.seed} hint=${host.seedHint} max=${largestSeed} value=${draft.seed} onValue=${(seed) => edit({ seed })} />
          <${Check} id="no-memory" label=${planning.noMemory} checked=${draft.noMemory ?? false} onValue=${(on) => edit({ noMemory: on || undefined })} />
        </div>
        <p class="hint">${planning.durationHint}</p>
      </details>
      <div role="status">${guessable(draft.seed) && html`<p class="note">${planning.seedGuessable}</p>`}</div>
    </form>`;
}

// StartBar sends the form. It says what was wrong with it, in sight of who pressed.
// Start is filled once there is a team to start with.
export function StartBar({ plan: { said, changed, lost }, ready }) {
  return html`
    <section class="bar" aria-label=${host.controls}>
      <${Message} good=${said === host.saved} text=${said} />
      ${changed && html`<p class="hint">${host.unsaved} ${lost && planning.lost}</p>`}
      <div class="pair">
        <button type="submit" form=${formID} value="save">${host.savePlan}</button>
        <button type="submit" form=${formID} value="start" class=${ready ? 'main' : 'start'}>${host.actions.start}</button>
      </div>
    </section>`;
}

// unfold shows a field that the browser is about to complain of.
function unfold(event) {
  for (let box = event.target.closest('details'); box; box = box.parentElement.closest('details')) box.open = true;
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
  return range && html`<span class="duration">${planning.duration(range.least, range.most)}</span>`;
}
