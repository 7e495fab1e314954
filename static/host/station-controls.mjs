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

export const stationShortcuts = [longer, shorter];

export function stationControls(state) {
  const stop = state.paused ? resume : pause;
  if (state.phase === 'marked') return [...(state.paused ? [resume] : []), leave];
  if (state.phase === 'station') return [signal, longer, shorter, stop, mark];
  if (state.rotation.turn === 0) return state.paused ? [resume] : [begin, pause];
  return [...(state.paused ? [] : [beginNow]), longer, shorter, stop, mark];
}
