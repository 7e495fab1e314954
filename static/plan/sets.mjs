// Question sets as files: the plan is saved under a name, and a saved one is
// loaded in its place.

import { html, useRef, useState } from '../vendor/preact-htm.mjs';
import { Field, Message } from '../parts/parts.mjs';
import { planning } from '../words/planning.mjs';

const mostBytes = 4 * 1024 * 1024;
const mostName = 60; // characters

// PlanSets: ready() resolves to whether the plan as shown is stored,
// onSaveSet(name) and onLoadSet(file) to the hub's answer; onAsk(dialog) asks first.
export function PlanSets({ title, ready, onSaveSet, onLoadSet, onAsk }) {
  const [name, setName] = useState(null); // as typed; till then it is the title
  const [message, setMessage] = useState({ text: '' });
  const file = useRef(null);
  const say = (text, good = false) => setMessage({ text, good });

  async function save(event) {
    event.preventDefault();
    if (!(await ready())) return;
    const { message: why } = await onSaveSet((name ?? title).trim());
    say(why ?? planning.setSaved, !why);
  }

  function load(event) {
    event.preventDefault();
    const [chosen] = file.current.files;
    if (!chosen) return say(planning.noFile);
    if (chosen.size > mostBytes) return say(planning.tooBig);
    return onAsk({ ...planning.confirmLoad(chosen.name), go: () => take(chosen) });
  }

  async function take(chosen) {
    const { data, message: why } = await onLoadSet(chosen);
    if (data) {
      file.current.value = '';
      setName(null);
    }
    say(why ?? planning.setLoaded(data.title), !why);
  }

  return html`
    <details class="sets">
      <summary>${planning.sets}</summary>
      <p class="hint">${planning.setsHint}</p>
      <${Message} ...${message} />
      <form onSubmit=${save}>
        <${Field} id="set-name" label=${planning.setName}>
          <input id="set-name" value=${name ?? title} maxlength=${mostName} autocomplete="off" onInput=${(e) => setName(e.target.value)} />
        <//>
        <button type="submit">${planning.saveSet}</button>
      </form>
      <form onSubmit=${load}>
        <${Field} id="set-file" label=${planning.setFile} hint=${planning.setFileHint}>
          <input id="set-file" ref=${file} type="file" accept=".jsonl,.json,.txt" aria-describedby="set-file-hint" />
        <//>
        <button type="submit">${planning.loadSet}</button>
      </form>
    </details>`;
}
