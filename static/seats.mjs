// A match keeps its seats for its sides: the phone says which one it is.

import { html, useCallback, useEffect, useState } from './vendor/preact-htm.mjs';
import { Heading, Message } from './parts.mjs';
import { tournament as words } from './words.mjs';

// useSeats are the sides of a match, none for a game that is open to all, and
// null until the hub has said.
export function useSeats(code, wanted) {
  const [seats, setSeats] = useState(null);
  const look = useCallback(async () => {
    try {
      const answer = await fetch(`/find?code=${encodeURIComponent(code)}`);
      setSeats(answer.ok ? (await answer.json()).seats ?? [] : []);
    } catch {
      setSeats([]);
    }
  }, [code]);
  useEffect(() => { if (wanted) look(); }, [look, wanted]);
  return [seats, look];
}

export function SideForm({ seats, message = '', onName, onLook }) {
  return html`
    <main class="sheet">
      <${Heading}>${words.side}<//>
      <p>${words.sideHint}</p>
      <${Message} text=${message} />
      ${seats.map(({ name, taken }) => html`
        <button type="button" key=${name} class=${taken ? '' : 'main'} disabled=${taken} onClick=${() => onName(name)}>${name}${taken && ` (${words.taken})`}</button>`)}
      <p><button type="button" onClick=${onLook}>${words.lookAgain}</button></p>
    </main>`;
}
