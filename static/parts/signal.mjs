// What a board or a console sounds like: a knock as a question opens, two as a
// team gets the buzz, a tick in each of the last seconds, and the signals of a
// station round. A browser makes no sound before someone has pressed
// something, so it is off until it is switched on.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { msLeft } from './clock.mjs';
import { station } from '../words/station.mjs';

const notes = { // Hz, from and length in s
  begin: [[880, 0, 0.35]], stop: [[660, 0, 0.5], [440, 0.55, 0.9]],
  open: [[220, 0, 0.12]], buzz: [[330, 0, 0.1], [330, 0.16, 0.1]], tick: [[1200, 0, 0.03]],
};
const loud = { tick: 0.15 };
const usual = 0.5;
const fade = 0.03; // s, so that a note neither clicks nor startles
const last = 5; // seconds that tick

function play(audio, kind) {
  for (const [pitch, from, length] of notes[kind]) {
    const at = audio.currentTime + from;
    const volume = new GainNode(audio, { gain: 0 });
    const note = new OscillatorNode(audio, { type: 'triangle', frequency: pitch });
    const rise = Math.min(fade, length / 2);
    volume.gain.setValueAtTime(0, at);
    volume.gain.linearRampToValueAtTime(loud[kind] ?? usual, at + rise);
    volume.gain.setValueAtTime(loud[kind] ?? usual, at + length - rise);
    volume.gain.linearRampToValueAtTime(0, at + length);
    note.connect(volume).connect(audio.destination);
    note.start(at);
    note.stop(at + length);
  }
}

// signalOf is what a change of the state sounds like, if it does: of two states
// as {phase, question, holder}.
export function signalOf(before, now) {
  if (now.phase === 'station') return before.phase === 'station' ? null : 'begin';
  if (before.phase === 'station' && (now.phase === 'walk' || now.phase === 'marked')) return 'stop';
  if (now.phase === 'buzzed' && now.holder && now.holder !== before.holder) return 'buzz';
  return now.phase === 'asking' && now.question !== before.question ? 'open' : null;
}

const heard = (state) => ({ phase: state.phase, question: state.question?.id, holder: state.buzz?.team });

// Sound is the switch; while it is on it sounds every signal of the state.
export function Sound({ state }) {
  const [on, setOn] = useState(false);
  const audio = useRef(null);
  const before = useRef(heard(state));
  const turn = state.rotation?.turn;

  useEffect(() => {
    const now = heard(state);
    const kind = signalOf(before.current, now);
    before.current = now;
    if (on && kind) play(audio.current, kind);
  }, [state.phase, turn, state.question?.id, state.buzz?.team]);
  useEffect(() => {
    const timed = on && !state.paused && ['asking', 'buzzed', 'station'].includes(state.phase);
    if (!timed) return undefined;
    const left = msLeft(state, performance.now());
    const timers = Array.from({ length: last }, (_, i) => left - (i + 1) * 1000).filter((ms) => ms > 0).map((ms) => setTimeout(() => play(audio.current, 'tick'), ms));
    return () => timers.forEach(clearTimeout);
  }, [on, state.phase, state.paused, state.left, state.at]);
  useEffect(() => () => {
    audio.current?.close();
  }, []);

  function toggle() {
    audio.current ??= new AudioContext();
    if (!on) {
      audio.current.resume().catch(() => setOn(false)); // the browser allows none
      play(audio.current, 'begin'); // so that the host hears whether the room will
    }
    setOn(!on);
  }

  return html`<button type="button" class="sound" aria-pressed=${on ? 'true' : 'false'} onClick=${toggle}>${on ? station.soundOn : station.soundOff}</button>`;
}
