// The strip along the top of the board.

import { html } from '../vendor/preact-htm.mjs';
import { board } from '../words/board.mjs';

// Head has where a late team finds the game, all along.
export function Head({ state, address, children }) {
  return html`
    <header class="strip">
      <span>${board.round(state.round)}</span>
      ${state.question && html`<span>${board.question(state.question, state.round)}</span>`}
      ${children}
      <span class="where-to"><span class="address">${address}</span> <b class="code">${state.code}</b></span>
    </header>`;
}
