// All that the host does before the start: the plan, its questions, sets as files.

import { html } from '../vendor/preact-htm.mjs';
import { PlanForm } from './form.mjs';
import { PlanQuestions } from './questions.mjs';
import { PlanSets } from './sets.mjs';

export function Planning({ plan, rosters, languages, onSave, onStart, onQuestions, onEdit, onSaveSet, onLoadSet, onAsk }) {
  const below = ({ title, changed, ready }) => html`
    <${PlanQuestions} ...${{ plan, changed, ready, onQuestions, onEdit }} />
    <${PlanSets} ...${{ title, ready, onSaveSet, onLoadSet, onAsk }} />`;
  return html`<${PlanForm} ...${{ plan, rosters, languages, onSave, onStart, below }} />`;
}
