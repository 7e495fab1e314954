// What the host may do in each phase, with the key that does it. Buttons and
// shortcuts are both drawn from this one table. Each verb keeps its place: what the
// phase does not allow is off, and nothing comes to stand where it stood.

import { stationControls, stationShortcuts, when } from './station-controls.mjs';
import { host } from '../words/host.mjs';

const { actions, confirm } = host;

const next = { action: 'next', key: 'n', label: actions.next, main: true };
const leave = { ...next, action: 'start', label: actions.leave }; // which names the next round, and waits
const close = { action: 'close', key: 'c', label: actions.close }; // not filled: a question ends by itself
const pause = { action: 'pause', key: 'p', label: actions.pause };
const resume = { action: 'resume', key: 'p', label: actions.resume, main: true };
const skip = { action: 'skip', key: 's', label: actions.skip, ask: confirm.skip };
const undo = { action: 'undo', key: 'u', label: actions.undo };
const ruleRight = { action: 'rule', key: 'r', label: actions.right, fields: { right: true } }; // not filled: a tap on the phone is ruled by itself
const ruleWrong = { action: 'rule', key: 'w', label: actions.wrong, fields: { right: false }, against: true }; // never a twin of the other

// end has no key and stands apart from the others: it can't be taken back.
export const end = { action: 'end', label: actions.end, ask: confirm.end };

// turnKeys shows the keys on this console or hides them: the hub knows nothing of it.
export const turnKeys = { key: 'k', label: actions.keys };

export const everyShortcut = [turnKeys, next, close, pause, skip, undo, ruleRight, ruleWrong, ...stationShortcuts];

// controls lists the places of the bar, from the left; the lobby's start belongs to
// the plan form.
export function controls(state) {
  const { phase, paused, rotation, round } = state;
  if (phase === 'lobby' || phase === 'ended') return [];
  const list = rotation ? stationControls(state) : questionControls(state, phase === 'asking' || phase === 'buzzed', round.kind === 'buzz');
  return paused ? list.map((c) => ({ ...c, main: c.action === 'resume' })) : list;
}

// ruling is on the team that the host sees holding the buzz, and on no later one.
const ruling = (control, { buzz, phase }) => when({ ...control, fields: { ...control.fields, team: buzz?.team } }, phase === 'buzzed');

function questionControls(state, open, buzz) {
  const { phase, paused, round, host: { canUndo } } = state;
  const on = { ready: { ...next, label: actions.begin(round.n) }, break: leave }[phase] ?? next;
  return [
    when(on, !open && !paused), when(close, open),
    when(paused ? resume : pause, paused || open), when(skip, open),
    when({ ...undo, label: buzz ? actions.undo : actions.undoPoints }, canUndo && phase !== 'break'),
    ...(buzz ? [ruling(ruleRight, state), ruling(ruleWrong, state)] : []),
  ];
}
