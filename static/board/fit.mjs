// The board fills its screen by measuring: the type grows until the text takes
// all the room, and what is drawn takes what the text leaves.

import { html, useEffect, useRef } from '../vendor/preact-htm.mjs';

const largest = 8; // % of the screen's height: of an option's type
const least = 2;
const steps = 8; // halvings

// Parts of a height of their own: what leaves them makes the whole no larger.
const parts = '.options, .lesson, .sides, .likeness, .here, .names, .columns, .places, .keys, .row > *, .typed';
const lines = '.names:not(.many) li'; // which may only be too long
const rounding = 6; // px: a line of type is a little higher than its own height

const wide = (e) => e.scrollWidth > e.clientWidth + 1;
const spills = (e) => e.scrollHeight > e.clientHeight + rounding || wide(e);
const over = (box) => spills(box) || [...box.querySelectorAll(parts)].some(spills) || [...box.querySelectorAll(lines)].some(wide);

export function grow(box, most = largest) {
  const set = (size) => box.style.setProperty('--size', `${size}vh`);
  let [low, high] = [least, most];
  set(high);
  if (!over(box)) return;
  for (let i = 0; i < steps; i++) {
    const size = (low + high) / 2;
    set(size);
    if (over(box)) high = size;
    else low = size;
  }
  set(low);
}

// spread lays compared drawings in as many columns as make them largest.
function spread(box) {
  const list = box.querySelector('.pictured');
  const { naturalWidth: wide, naturalHeight: high } = list?.querySelector('.thumb') ?? {};
  if (!wide) return;
  const n = list.children.length;
  const letter = list.querySelector('.letter').offsetHeight;
  const size = (across) => Math.min(list.clientWidth / across / wide, (list.clientHeight / Math.ceil(n / across) - letter) / high);
  let best = n;
  for (let across = n - 1; across > 0; across--) if (size(across) >= size(best)) best = across;
  list.style.setProperty('--across', best);
}

// Fit is the part of the board below its head.
export function Fit({ kind, most, children }) {
  const box = useRef(null);
  const again = () => {
    if (!box.current) return;
    grow(box.current, most);
    spread(box.current);
  };
  useEffect(again);
  useEffect(() => {
    const watch = new ResizeObserver(again);
    watch.observe(box.current);
    const added = new MutationObserver(again); // drawings come late, and lines with them
    added.observe(box.current, { childList: true, subtree: true });
    document.fonts?.addEventListener('loadingdone', again);
    box.current.addEventListener('load', again, true); // of an image
    return () => {
      watch.disconnect();
      added.disconnect();
      document.fonts?.removeEventListener('loadingdone', again);
    };
  }, [most]);
  return html`<main class=${`fit ${kind}`} ref=${box}>${children}</main>`;
}
