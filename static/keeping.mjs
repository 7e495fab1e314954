// What the hub keeps, for its host: the stored games and tournaments, each to be
// erased, a copy of all, and the host key.

import { html, useState } from './vendor/preact-htm.mjs';
import { Message } from './parts.mjs';
import { hub, keeping, landing } from './words.mjs';

// askHub resolves to what the hub answered, or to a refusal.
export async function askHub(key, method, address) {
  try {
    const answer = await fetch(address, { method, headers: { Authorization: `Bearer ${key}` } });
    if (answer.status === 204) return {};
    if (!answer.ok || !answer.headers.get('Content-Type').includes('octet-stream')) return await answer.json();
    return { name: answer.headers.get('Content-Disposition').match(/filename="?([^";]+)/)[1], file: await answer.blob() };
  } catch {
    return { type: 'refused', message: landing.unreachable };
  }
}

export const gamePath = (code) => `/games/${encodeURIComponent(code)}`;
const storedPath = (g) => (g.tournament ? `/tournaments/${encodeURIComponent(g.code)}` : gamePath(g.code));
export const namePath = (code, team) => `${gamePath(code)}/teams/${encodeURIComponent(team)}/name`;

function save({ name, file }) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// Keeping: onHub(method, address) resolves to the hub's answer, onAsk(dialog)
// asks the host first, onKey() has the key changed.
export function Keeping({ onHub, onAsk, onKey }) {
  const [games, setGames] = useState([]);
  const [message, setMessage] = useState({ text: '' });
  const say = (text, good = false) => setMessage({ text, good });

  async function load(said = '') {
    const answer = await onHub('GET', '/games');
    say(answer.message ? hub.refused(answer) : said, !answer.message);
    if (Array.isArray(answer)) setGames(answer);
  }

  async function erase(address) {
    const answer = await onHub('DELETE', address);
    if (answer.message) say(hub.refused(answer));
    else await load(keeping.erased);
  }

  async function backUp() {
    const answer = await onHub('GET', '/backup');
    if (answer.message) return say(hub.refused(answer));
    save(answer);
    return say(keeping.backedUp, true);
  }

  const eraseAll = { ...keeping.confirmAll, go: () => erase('/games') };
  const change = { ...keeping.confirmKey, go: onKey };
  return html`
    <details class="keeping" onToggle=${(event) => event.target.open && load()}>
      <summary>${keeping.title}</summary>
      <p class="hint">${keeping.lead}</p>
      <${Message} ...${message} />
      ${games.length === 0 ? html`<p>${keeping.none}</p>` : html`
        <ul>${games.map((g) => html`<${GameRow} key=${g.code} game=${g} onAsk=${onAsk} onErase=${() => erase(storedPath(g))} />`)}</ul>`}
      <div class="buttons">
        <button type="button" onClick=${backUp}>${keeping.backup}</button>
        <button type="button" onClick=${() => onAsk(change)}>${keeping.newKey}</button>
        <button type="button" onClick=${() => onAsk(eraseAll)}>${keeping.eraseAll}</button>
      </div>
    </details>`;
}

function GameRow({ game, onAsk, onErase }) {
  const { code } = game;
  const [label, question] = game.tournament ? [keeping.eraseCup(code), keeping.confirmCup(code)] : [keeping.eraseOne(code), keeping.confirmGame(code)];
  return html`
    <li>
      <span>${keeping.line(game)}</span>
      <button type="button" aria-label=${label} onClick=${() => onAsk({ ...question, go: onErase })}>${keeping.erase}</button>
    </li>`;
}

// ExtraTime is a team's share of time beyond the others', in open rounds.
export function ExtraTime({ team, onDo }) {
  return html`
    <select aria-label=${keeping.extraFor(team.name)} value=${team.extra ?? 0}
      onChange=${(event) => onDo('extend', { team: team.team, extra: Number(event.target.value) })}>
      ${[0, 25, 50, 100].map((n) => html`<option key=${n} value=${n}>${keeping.extra(n)}</option>`)}
    </select>`;
}

// withExtra is the state as a team with extra time has it: the hub tells all
// teams of the time that all have.
export function withExtra(state, extra = 0) {
  if (!extra || state.phase !== 'asking' || state.round.kind !== 'open') return state;
  return { ...state, left: state.left + (state.span * extra) / 100, span: state.span * (1 + extra / 100) };
}
