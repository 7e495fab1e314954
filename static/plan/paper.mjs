// The game's own questions, and the study guide to its roster, as files that the hub makes.

import { html, useState } from '../vendor/preact-htm.mjs';
import { Choice, paperSizes, usualPaper } from '../parts/fields.mjs';
import { Message } from '../parts/parts.mjs';
import { paper as words } from '../words/planning.mjs';

const stations = ['cards', 'sheets', 'scores', 'key', 'plates'];
const open = ['quiz', 'key', 'cards', 'scores', 'plates'];
const study = ['guide', 'page', 'worksheet', 'answers'];
const shared = [['0', words.asManyAsFit], ...['1', '2', '4', '6'].map((n) => [n, n])];

// PlanPaper: ready() resolves to whether the plan as shown is stored, onPaper({kind,
// round, size, perPage}) to the hub's answer.
export function PlanPaper({ plan, ready, onPaper }) {
  const [chosen, setChosen] = useState(null);
  const [size, setSize] = useState(usualPaper);
  const [perPage, setPerPage] = useState('0');
  const [message, setMessage] = useState({ text: '' });
  const loose = plan.rounds.some((r) => !r.station); // some questions need no stations
  const choices = [...(loose ? [['', words.all]] : []), ...plan.rounds.map((r, i) => [String(i), `${i + 1}: ${r.name}`])];
  const round = choices.some(([v]) => v === chosen) ? chosen : choices[0]?.[0] ?? '';
  const kinds = plan.rounds[round]?.station ? stations : open;

  async function save(kind) {
    if (!(await ready())) return;
    const { message: why } = await onPaper({ kind, round, size, perPage });
    setMessage({ text: why ?? words.made, good: !why });
  }

  return html`
    <details class="sets papers">
      <summary>${words.title}</summary>
      <p class="hint">${words.hint}</p>
      <div class="fields">
        <${Choice} id="paper-round" label=${words.of} value=${round} choices=${choices} onValue=${setChosen} />
        <${Choice} id="paper-size" label=${words.size} value=${size} choices=${paperSizes} onValue=${setSize} />
        <${Choice} id="paper-per-page" label=${words.perPage} value=${perPage} choices=${shared} onValue=${setPerPage} />
      </div>
      <p class="hint">${words.perPageHint}</p>
      <div class="kinds">${kinds.map((kind) => html`<button type="button" key=${kind} onClick=${() => save(kind)}>${words.kinds[kind]}</button>`)}</div>
      <h3>${words.study}</h3>
      <p class="hint">${words.studyHint}</p>
      <div class="kinds">${study.map((kind) => html`<button type="button" key=${kind} onClick=${() => save(kind)}>${words.kinds[kind]}</button>`)}</div>
      <${Message} ...${message} />
    </details>`;
}
