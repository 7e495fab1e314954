// What the host may do in a station round, in the manner of controls.mjs.

import { host } from '../words/host.mjs';
import { station } from '../words/station.mjs';

const step = 30; // s

const begin = { action: 'next', key: 'n', label: station.begin, main: true };
const beginNow = { ...begin, label: station.beginNow };
const leave = { ...begin, label: station.leave };
const signal = { action: 'close', key: 'c', label: station.signalNow, main: true };
const longer = { action: 'adjust', key: '+', label: station.longer, fields: { seconds: step } };
const shorter = { action: 'adjust', key: '-', label: station.shorter, fields: { seconds: -step } };
const pause = { action: 'pause', key: 'p', label: host.actions.pause };
const resume = { action: 'resume', key: 'p', label: host.actions.resume, main: true };
const mark = { action: 'mark', label: station.mark, ask: station.confirmMark };

// when is a control that is off unless something holds.
export const when = (control, holds) => ({ ...control, off: !holds });

export const stationShortcuts = [longer, shorter];

export function stationControls({ phase, paused, rotation }) {
  const first = rotation.turn === 0;
  const over = phase === 'marked';
  const timed = !over && !first;
  const on = over ? leave : first ? begin : beginNow;
  return [
    when(on, phase !== 'station' && !paused), when(signal, phase === 'station'), when(paused ? resume : pause, paused || !over),
    when(longer, timed), when(shorter, timed), when(mark, timed),
  ];
}
