// The one box that asks before something is done that can't be taken back.

import { html, useEffect, useRef } from '../vendor/preact-htm.mjs';
import { Field } from './parts.mjs';
import { common } from '../words/common.mjs';

// Dialog asks before something is done; with a value it also asks for a new one.
export function Dialog({ title, text, yes, value, go, onClose }) {
  const box = useRef(null);
  const input = useRef(null);
  useEffect(() => box.current.showModal(), []);

  function submit(event) {
    event.preventDefault();
    go(input.current?.value.trim());
    box.current.close();
  }

  return html`
    <dialog ref=${box} aria-labelledby="dialog-title" onClose=${onClose}>
      <form onSubmit=${submit}>
        <h2 id="dialog-title">${title}</h2>
        ${text && html`<p>${text}</p>`}
        ${value !== undefined && html`
          <${Field} id="new-name" label=${common.newName}>
            <input id="new-name" ref=${input} defaultValue=${value} required maxlength="24" autocomplete="off" />
          <//>`}
        <div class="pair">
          <button type="button" onClick=${() => box.current.close()}>${common.cancel}</button>
          <button type="submit" class="main">${yes}</button>
        </div>
      </form>
    </dialog>`;
}
