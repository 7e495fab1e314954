// A match keeps its seats for its sides: the phone says which one it is.

import { html, useCallback, useEffect, useState } from '../vendor/preact-htm.mjs';
import { Heading, Message, Stopped, whyStopped } from '../parts/parts.mjs';
import { team } from '../words/team.mjs';

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

// A side that is taken is not to be told to choose another name.
const whyNot = (stop) => (stop.code === 'name_taken' ? team.takenNow : whyStopped(stop));

// SideForm: stop is why the hub has just refused a side, if it did.
export function SideForm({ seats, stop, onName, onLook }) {
  return html`
    <main class="sheet">
      <${Heading}>${team.side}<//>
      <p>${team.sideHint}</p>
      <${Message} text=${stop && whyNot(stop)} />
      ${seats.map(({ name, taken }) => html`
        <button type="button" key=${name} class=${taken ? '' : 'main'} disabled=${taken} onClick=${() => onName(name)}>${name}${taken && ` (${team.taken})`}</button>`)}
      ${seats.some((s) => s.taken) && html`<p class="note">${team.takenHint}</p>`}
      <p><button type="button" onClick=${onLook}>${team.lookAgain}</button></p>
    </main>`;
}

// Freed is what a phone shows that the host has sent from a side's seat.
export function Freed({ onAgain }) {
  return html`<${Stopped} title=${team.freedTitle} text=${team.freed} action=${team.joinAgain} onAction=${onAgain} />`;
}
