// How teams get in, and how the host's own phone does.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Drawing, Message, reaches } from '../parts/parts.mjs';
import { host, join as words } from '../words/host.mjs';

// ToBoard opens the board, whole in the questions' language, which is the class's.
export function ToBoard({ state: { code, language = 'en' }, kind = '' }) {
  const board = new URL(`/board?game=${encodeURIComponent(code)}&lang=${encodeURIComponent(language)}`, location.origin).href;
  return html`<a class=${`to-board ${kind}`} href=${board} target="_blank" rel="noreferrer">${host.openBoard}</a>`;
}

// Join is the code, the address and what to scan. A code that leads to this
// machine alone is not drawn. Before a team is there, the board comes first.
export function Join({ state, address, onHub }) {
  const at = new URL(address).host;
  return html`
    <div class="join">
      ${state.teams === 0 && html`<p class="hint">${words.board}</p><${ToBoard} state=${state} kind="main" />`}
      ${reaches(at)
        ? html`<img class="scan" src=${`/qr.svg?game=${encodeURIComponent(state.code)}&at=${encodeURIComponent(at)}`} alt=${words.qr} />
          <p>${words.open} <b class="address">${at}</b></p><p class="code">${state.code}</p>`
        : html`<p class="note">${words.alone}</p>`}
      <${Addresses} now=${address} onHub=${onHub} />
    </div>`;
}

// Addresses are all at which this machine may be reached: phones are on one of
// its networks, and it can't be known on which.
function Addresses({ now, onHub }) {
  const [list, setList] = useState([]);
  const [message, setMessage] = useState('');

  async function ask(method, address) {
    const { data, message: why } = await onHub(method, '/addresses', address && JSON.stringify({ address }));
    setMessage(why ?? '');
    if (data?.addresses) setList(data.addresses);
  }

  return html`
    <details class="addresses" onToggle=${(event) => event.target.open && ask('GET')}>
      <summary>${words.other}</summary>
      <p class="hint">${words.otherHint}</p>
      <${Message} text=${message} />
      <ul>
        ${list.map((a) => html`
          <li key=${a.address}>
            <button type="button" class="plain" aria-pressed=${new URL(a.address).host === new URL(now).host} onClick=${() => ask('POST', a.address)}>
              ${new URL(a.address).host} <span class="hint">${a.network}</span>
            </button>
          </li>`)}
      </ul>
    </details>`;
}

const shows = [' ', 'Enter'];

// HostFromPhone shows what to scan for as long as it is pressed: the key is in it.
export function HostFromPhone({ state, address, onHostCode }) {
  const [svg, setSVG] = useState('');
  const [message, setMessage] = useState('');
  const held = useRef(false);

  async function show() {
    if (held.current) return;
    held.current = true;
    const { text, message: why } = await onHostCode();
    setMessage(why ?? '');
    if (held.current && text) setSVG(text);
  }

  function hide() {
    held.current = false;
    setSVG('');
  }

  useEffect(() => {
    const ends = ['pointerup', 'pointercancel', 'blur'];
    ends.forEach((name) => addEventListener(name, hide));
    return () => ends.forEach((name) => removeEventListener(name, hide));
  }, []);

  if (!reaches(new URL(address).host)) return null;
  return html`
    <span class="from-phone">
      <button type="button" class="plain" onPointerDown=${show} onKeyDown=${(e) => shows.includes(e.key) && show()} onKeyUp=${hide} onBlur=${hide}
        onContextMenu=${(e) => e.preventDefault()}>${words.fromPhone}</button>
      ${message && html`<${Message} text=${message} />`}
      ${svg && html`<div class="host-code"><${Drawing} plate=${{ svg, alt: words.hostQR }} kind="scan" /><p>${words.keepHidden(state.code)}</p></div>`}
    </span>`;
}
