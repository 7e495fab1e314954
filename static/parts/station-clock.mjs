// The clock of a station round.

import { html } from '../vendor/preact-htm.mjs';
import { msLeft, useNow } from './clock.mjs';
import { common } from '../words/common.mjs';
import { station } from '../words/station.mjs';

// StationClock is the clock of a rotation or a walk, large.
export function StationClock({ state }) {
  const timed = state.phase === 'station' || (state.phase === 'walk' && state.rotation.turn > 0);
  const now = useNow(timed && !state.paused);
  if (!timed) return null;
  const left = msLeft(state, now);
  return html`
    <div class="station-clock">
      <span role="timer" aria-label=${common.timeLeft}>${left > 0 ? station.clock(Math.ceil(left / 1000)) : station.clock(0)}</span>
      <progress max=${Math.max(state.span, left)} value=${left} aria-hidden="true"></progress>
    </div>`;
}
