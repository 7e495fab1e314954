// Tables of figures.

import { html } from '../vendor/preact-htm.mjs';

// Wide is what may be wider than the screen; the keyboard can move it, too.
export function Wide({ label, children }) {
  return html`<div class="wide" role="region" tabindex="0" aria-label=${label}>${children}</div>`;
}

// Table draws rows of cells; the first cell heads its row. Roles are said
// outright, for on a phone the rows are laid out as blocks.
export function Table({ caption, columns, rows, kind = '' }) {
  const heads = Object.values(columns);
  return html`
    <table class=${`figures ${kind}`} role="table">
      <caption>${caption}</caption>
      <thead role="rowgroup"><tr role="row">${heads.map((text) => html`<th scope="col" role="columnheader" key=${text}>${text}</th>`)}</tr></thead>
      <tbody role="rowgroup">
        ${rows.map(([head, ...cells]) => html`
          <tr role="row">
            <th scope="row" role="rowheader">${head}</th>
            ${cells.map((c, i) => html`<td role="cell" data-label=${heads[i + 1]}>${c}</td>`)}
          </tr>`)}
      </tbody>
    </table>`;
}
