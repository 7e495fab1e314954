// All that the host does before the start: the plan, its questions, sets as files.

import { html } from '../vendor/preact-htm.mjs';
import { PlanForm } from './form.mjs';
import { PlanQuestions } from './questions.mjs';
import { PlanSets } from './sets.mjs';

// Planning: stored is the hub's plan, plan what usePlan gives of it.
export function Planning({ stored, plan, rosters, languages, onHub, onQuestions, onEdit, onSaveSet, onLoadSet, onAsk }) {
  const { draft, changed, ready } = plan;
  return html`
    <${PlanForm} ...${{ plan, rosters, languages, onHub }} />
    <${PlanQuestions} ...${{ plan: stored, changed, ready, onQuestions, onEdit }} />
    <${PlanSets} ...${{ title: draft.title, ready, onSaveSet, onLoadSet, onAsk }} />`;
}
