// All that the host does before the start: the plan, its questions, sets as files.

import { html } from '../vendor/preact-htm.mjs';
import { PlanForm } from './form.mjs';
import { PlanPaper } from './paper.mjs';
import { PlanQuestions } from './questions.mjs';
import { PlanSets } from './sets.mjs';

// Planning: stored is the hub's plan, plan what usePlan gives of it. A match's plan
// comes from its tournament, and is there to be played.
export function Planning({ match, stored, plan, rosters, languages, onHub, onQuestions, onEdit, onPaper, onSaveSet, onLoadSet, onAsk }) {
  const { draft, changed, ready } = plan;
  return html`
    <${PlanForm} ...${{ match, stored, plan, rosters, languages, onHub }} />
    <${PlanQuestions} ...${{ plan: stored, changed, ready, onQuestions, onEdit }} />
    <${PlanPaper} ...${{ plan: stored, ready, onPaper }} />
    <${PlanSets} ...${{ title: draft.title, ready, onSaveSet, onLoadSet, onAsk }} />`;
}
