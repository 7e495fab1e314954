// A page that only the host sees: it asks for the key until the hub knows it.

import { html, render } from '../vendor/preact-htm.mjs';
import { KeyForm } from './key-form.mjs';
import { useHostKey } from '../lib/host-key.mjs';
import { learnNames } from '../lib/species.mjs';

const refusedKey = 403;

function Keyed({ page: Page }) {
  const { key, problem, enterKey, refuseKey } = useHostKey();

  // checked passes an answer on, unless it says that the key is wrong.
  async function checked(answer) {
    const found = await answer;
    if (found.status !== refusedKey) return found;
    refuseKey();
    return new Promise(() => {}); // the page is gone
  }

  if (!key) return html`<${KeyForm} key=${problem} message=${problem} onKey=${enterKey} />`;
  return html`<${Page} secret=${key} checked=${checked} />`;
}

export const keyed = (page) => learnNames().then(() => render(html`<${Keyed} page=${page} />`, document.getElementById('page')));
