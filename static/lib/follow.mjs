// A page that stays with its teams: when its game has ended and names the next
// one, the page goes there by itself.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';

// Following shows Page for a game, and for the one that follows it. Nothing is
// reloaded: a browser that keeps nothing would lose the team's token.
export function Following({ page: Page, code: first }) {
  const [code, setCode] = useState(first);

  function onNext(next) {
    const address = new URL(location.href);
    address.searchParams.set('game', next);
    history.replaceState(null, '', address);
    setCode(next);
  }

  return html`<${Page} key=${code} code=${code} onNext=${onNext} />`;
}

// useNext tells the page of the next game once there is one.
export function useNext(state, onNext) {
  const next = state?.next;
  useEffect(() => { if (next) onNext(next); }, [next]);
}
