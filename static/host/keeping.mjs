// What the hub keeps, for its host: the stored games and tournaments, each to be
// erased, a copy of all, and the host key.

import { html, useState } from '../vendor/preact-htm.mjs';
import { Message } from '../parts/parts.mjs';
import { keeping } from '../words/host.mjs';

export const gamePath = (code) => `/games/${encodeURIComponent(code)}`;
const storedPath = (g) => (g.tournament ? `/tournaments/${encodeURIComponent(g.code)}` : gamePath(g.code));
export const namePath = (code, team) => `${gamePath(code)}/teams/${encodeURIComponent(team)}/name`;

// Keeping: onHub(method, address) and onBackUp() resolve to the hub's answer,
// onAsk(dialog) asks the host first, onKey() has the key changed.
export function Keeping({ onHub, onBackUp, onAsk, onKey }) {
  const [games, setGames] = useState([]);
  const [message, setMessage] = useState({ text: '' });
  const say = (text, good = false) => setMessage({ text, good });

  async function load(said = '') {
    const { data, message: why } = await onHub('GET', '/games');
    say(why ?? said, !why);
    if (data) setGames(data);
  }

  async function erase(address) {
    const { message: why } = await onHub('DELETE', address);
    if (why) say(why);
    else await load(keeping.erased);
  }

  async function backUp() {
    const { message: why } = await onBackUp();
    say(why ?? keeping.backedUp, !why);
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
        <button type="button" class="against" onClick=${() => onAsk(eraseAll)}>${keeping.eraseAll}</button>
      </div>
    </details>`;
}

function GameRow({ game, onAsk, onErase }) {
  const { code } = game;
  const [label, question] = game.tournament ? [keeping.eraseTournament(code), keeping.confirmTournament(code)] : [keeping.eraseOne(code), keeping.confirmGame(code)];
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
