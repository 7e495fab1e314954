// A page that only the host sees: it asks for the key until the hub knows it.

import { html, render, useState } from './vendor/preact-htm.mjs';
import { KeyForm } from './host-screens.mjs';
import { hostKey } from './host-key.mjs';
import { learnNames } from './species.mjs';
import { host } from './words.mjs';

const refusedKey = 403;

function Keyed({ page: Page }) {
  const [key, setKey] = useState(hostKey.get);
  const [problem, setProblem] = useState('');

  function enterKey(entered) {
    hostKey.set(entered);
    setProblem('');
    setKey(entered);
  }

  // checked passes an answer on, unless it says that the key is wrong.
  async function checked(answer) {
    const found = await answer;
    if (found.status !== refusedKey) return found;
    hostKey.drop();
    setProblem(host.wrongKey);
    setKey('');
    return new Promise(() => {}); // the page is gone
  }

  if (!key) return html`<${KeyForm} key=${problem} message=${problem} onKey=${enterKey} />`;
  return html`<${Page} secret=${key} checked=${checked} />`;
}

export const keyed = (page) => learnNames().then(() => render(html`<${Keyed} page=${page} />`, document.getElementById('page')));
