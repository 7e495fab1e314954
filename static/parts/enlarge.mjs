// A tap on a drawing fills the screen with it, where it can be moved about.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Drawing } from './parts.mjs';
import { tongue } from '../lib/species.mjs';
import { lesson as words } from '../words/common.mjs';

// Enlarged is a drawing as a button that opens it. plate is {plate, plateAlt},
// or {svg, alt} where the page has the drawing itself.
export function Enlarged({ plate, kind = 'plate' }) {
  const [open, setOpen] = useState(false);
  const shown = plate.svg
    ? html`<${Drawing} plate=${plate} kind=${kind} />`
    : html`<img class=${kind} src=${plate.plate} lang=${tongue(plate.plateAlt)} alt=${plate.plateAlt} />`;
  return html`
    <button type="button" class="enlarge" onClick=${() => setOpen(true)}>${shown}<span class="heard">${words.enlarge}</span></button>
    ${open && html`<${Large} plate=${plate} onClose=${() => setOpen(false)} />`}`;
}

// Larger is a button beside a drawing that opens it: a press on the drawing
// itself answers. label tells it from others.
export function Larger({ plate, label }) {
  const [open, setOpen] = useState(false);
  return html`
    <button type="button" class="larger" onClick=${() => setOpen(true)}><span class="heard">${words.enlarge} ${label}</span></button>
    ${open && html`<${Large} plate=${plate} middle onClose=${() => setOpen(false)} />`}`;
}

function Large({ plate, middle, onClose }) {
  const box = useRef(null);
  useEffect(() => {
    box.current.showModal();
    const pan = box.current.firstElementChild;
    if (middle) pan.scrollLeft = (pan.scrollWidth - pan.clientWidth) / 2; // options stand in the middle of one box
  }, []);
  const close = () => box.current.close();
  return html`
    <dialog class="large" aria-label=${words.enlarge} ref=${box} onClose=${onClose}>
      <div class="pan" tabindex="0" onClick=${close}>${plate.svg
        ? html`<${Drawing} plate=${plate} kind="drawn" />`
        : html`<img class="drawn" src=${plate.plate} lang=${tongue(plate.plateAlt)} alt=${plate.plateAlt} />`}</div>
      <button type="button" class="main" onClick=${close}>${words.smaller}</button>
    </dialog>`;
}
