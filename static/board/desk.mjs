// The board's few controls. They come up when someone moves the pointer or
// reaches them by the keyboard, so that a projector shows none.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { reaches } from '../parts/parts.mjs';
import { Sound } from '../parts/signal.mjs';
import { board } from '../words/board.mjs';

const stay = 4_000; // ms
const showJoining = ['lobby', 'interval']; // phases in which the way in is there anyway

function useAwake() {
  const [awake, setAwake] = useState(false);
  useEffect(() => {
    let timer = 0;
    const wake = () => {
      setAwake(true);
      clearTimeout(timer);
      timer = setTimeout(() => setAwake(false), stay);
    };
    addEventListener('pointermove', wake);
    return () => {
      clearTimeout(timer);
      removeEventListener('pointermove', wake);
    };
  }, []);
  return awake;
}

export function Desk({ state, address }) {
  const awake = useAwake() || state.phase === 'lobby';
  const joinable = !showJoining.includes(state.phase);
  const [join, setJoin] = useState(false);
  const [full, setFull] = useState(Boolean(document.fullscreenElement));
  useEffect(() => {
    const look = () => setFull(Boolean(document.fullscreenElement));
    document.addEventListener('fullscreenchange', look);
    return () => document.removeEventListener('fullscreenchange', look);
  }, []);
  useEffect(() => {
    const close = (event) => event.key === 'Escape' && setJoin(false);
    addEventListener('keydown', close);
    return () => removeEventListener('keydown', close);
  }, []);
  const fill = () => (full ? document.exitFullscreen() : document.documentElement.requestFullscreen()).catch(() => {});
  return html`
    ${join && joinable && html`<section class="join" aria-label=${board.howToJoin}><${Joining} state=${state} address=${address} /></section>`}
    <nav class=${awake ? 'desk awake' : 'desk'} aria-label=${board.controls}>
      ${joinable && html`<button type="button" aria-pressed=${join ? 'true' : 'false'} onClick=${() => setJoin(!join)}>${board.showJoin}</button>`}
      <${Sound} state=${state} />
      ${document.fullscreenEnabled && html`<button type="button" aria-pressed=${full ? 'true' : 'false'} onClick=${fill}>${board.full}</button>`}
    </nav>`;
}

// Joining is all that a team needs to come in: no code is drawn that leads a
// phone to itself. The drawing is the game's, unless the state has one of its own.
export function Joining({ state, address, lead = board.scan, alt = board.qrAlt }) {
  if (!reaches(address)) return html`<p class="offline">${board.offline}</p><p class="code" style=${{ '--letters': state.code.length }}>${state.code}</p>`;
  return html`
    <p>${lead}</p>
    <img class="qr" src=${state.qr ?? `/qr.svg?game=${encodeURIComponent(state.code)}`} alt=${alt} />
    <p>${board.orOpen}</p>
    <p class="address" style=${{ '--letters': address.length }}>${address}</p>
    <p class="code" style=${{ '--letters': state.code.length }}>${state.code}</p>`;
}
