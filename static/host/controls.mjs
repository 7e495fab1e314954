// What the host may do in each phase, with the key that does it. Buttons and
// shortcuts are both drawn from this one table.

import { stationControls, stationShortcuts } from './station-controls.mjs';
import { host } from '../words/host.mjs';

const { actions, confirm } = host;

const next = { action: 'next', key: 'n', label: actions.next, main: true };
const leave = { ...next, label: actions.leave };
const close = { action: 'close', key: 'c', label: actions.close, main: true };
const pause = { action: 'pause', key: 'p', label: actions.pause };
const resume = { action: 'resume', key: 'p', label: actions.resume, main: true };
const skip = { action: 'skip', key: 's', label: actions.skip, ask: confirm.skip };
const undo = { action: 'undo', key: 'u', label: actions.undo };
const ruleRight = { action: 'rule', key: 'r', label: actions.right, fields: { right: true }, main: true };
const ruleWrong = { action: 'rule', key: 'w', label: actions.wrong, fields: { right: false }, against: true }; // never a twin of the other

// end has no key and stands apart from the others: it can't be taken back.
export const end = { action: 'end', label: actions.end, ask: confirm.end };

export const everyShortcut = [next, close, pause, skip, undo, ruleRight, ruleWrong, ...stationShortcuts];

// controls lists what the state allows; the lobby's start belongs to the plan form.
export function controls(state) {
  const stop = state.paused ? resume : pause;
  const back = state.host.canUndo ? [undo] : [];
  switch (state.phase) {
    case 'asking': return leading(state, [close, stop, skip, ...back]);
    case 'buzzed': return leading(state, [ruleRight, ruleWrong, { ...close, main: false }, stop, skip, ...back]);
    case 'revealed': return leading(state, [...(state.paused ? [resume] : []), next, ...back]);
    case 'break': return leading(state, [...(state.paused ? [resume] : []), leave]);
    case 'walk': case 'station': case 'marked': return leading(state, stationControls(state));
    default: return [];
  }
}

// leading puts Resume first while the game is paused, and nothing else in colour.
function leading(state, list) {
  if (!state.paused) return list;
  const on = list.filter((c) => c.action === 'resume');
  return [...on, ...list.filter((c) => c.action !== 'resume').map((c) => ({ ...c, main: false }))];
}
