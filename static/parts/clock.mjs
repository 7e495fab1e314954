// Clocks, drawn from what the hub sent and the page's own steady clock.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { common } from '../words/common.mjs';

const tick = 100; // ms

// msLeft is what is left of a state received at state.at; a paused clock stands.
export function msLeft(state, now) {
  if (state.paused) return Math.max(0, state.left);
  return Math.max(0, state.left - Math.max(0, now - state.at));
}

export function useNow(running) {
  const [now, setNow] = useState(() => performance.now());
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => setNow(performance.now()), tick);
    return () => clearInterval(timer);
  }, [running]);
  return now;
}

const isTimed = (state) => (state.phase === 'asking' || state.phase === 'buzzed') && state.span > 0;

// useUp tells whether a question's time is up, and draws anew when it gets so.
export function useUp(state) {
  const [, draw] = useState(0);
  const left = isTimed(state) ? msLeft(state, performance.now()) : Infinity;
  const waits = left > 0 && left < Infinity && !state.paused;
  useEffect(() => {
    if (!waits) return undefined;
    const timer = setTimeout(() => draw((n) => n + 1), Math.ceil(left));
    return () => clearTimeout(timer);
  }); // at each drawing: what is left is another then
  return left === 0;
}

export function Countdown({ state }) {
  const timed = isTimed(state);
  const now = useNow(timed && !state.paused);
  if (!timed) return null;
  const left = msLeft(state, now);
  const text = left > 0 ? common.seconds(Math.ceil(left / 1000)) : common.timeUp;
  return html`
    <div class="countdown">
      <progress max=${state.span} value=${left} aria-hidden="true"></progress>
      <span role="timer" aria-label=${common.timeLeft}>${text}</span>
    </div>`;
}

// withExtra is the state as a team with extra time has it: the hub tells all
// teams of the time that all have.
export function withExtra(state, extra = 0) {
  if (!extra || state.phase !== 'asking' || state.round.kind !== 'open') return state;
  return { ...state, left: state.left + (state.span * extra) / 100, span: state.span * (1 + extra / 100) };
}
