// The form that asks for the host key.

import { html, useRef, useState } from '../vendor/preact-htm.mjs';
import { Field, Heading, Languages, Message, title } from './parts.mjs';
import { pages } from '../words/common.mjs';
import { hostKey as words } from '../words/key.mjs';

export function KeyForm({ onKey, message: first = '' }) {
  const [message, setMessage] = useState(first);
  const input = useRef(null);

  function submit(event) {
    event.preventDefault();
    const key = input.current.value.trim();
    if (key) return onKey(key);
    setMessage(words.emptyKey);
    input.current.focus();
  }

  return html`
    <main class="sheet">
      <${Heading}>${title === pages.titles.host ? words.title : title}<//>
      <form onSubmit=${submit} novalidate>
        <${Field} id="key" label=${words.keyLabel} hint=${words.keyHint}>
          <input id="key" ref=${input} type="password" autocomplete="current-password" aria-describedby="key-hint" />
        <//>
        <${Message} text=${message} />
        <button type="submit" class="main">${words.useKey}</button>
      </form>
      <${Languages} />
    </main>`;
}
