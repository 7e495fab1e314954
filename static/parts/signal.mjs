// The signal of a station round by sound: two notes to stop, one to begin. A
// browser makes no sound before someone has pressed something, so it is off
// until it is switched on.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { station } from '../words/station.mjs';

const notes = { begin: [[880, 0, 0.35]], stop: [[660, 0, 0.5], [440, 0.55, 0.9]] }; // Hz, from and length in s
const loud = 0.5;
const fade = 0.03; // s, so that a note neither clicks nor startles

function play(audio, kind) {
  for (const [pitch, from, length] of notes[kind]) {
    const at = audio.currentTime + from;
    const note = new OscillatorNode(audio, { type: 'triangle', frequency: pitch });
    const volume = new GainNode(audio, { gain: 0 });
    volume.gain.setValueAtTime(0, at);
    volume.gain.linearRampToValueAtTime(loud, at + fade);
    volume.gain.setValueAtTime(loud, at + length - fade);
    volume.gain.linearRampToValueAtTime(0, at + length);
    note.connect(volume).connect(audio.destination);
    note.start(at);
    note.stop(at + length);
  }
}

// signalOf is what a change of the state sounds like, if it does.
export function signalOf(before, now) {
  if (now === 'station') return 'begin';
  return before === 'station' && (now === 'walk' || now === 'marked') ? 'stop' : null;
}

// Sound is the switch; while it is on it sounds every signal of the state.
export function Sound({ state }) {
  const [on, setOn] = useState(false);
  const audio = useRef(null);
  const before = useRef(state.phase);
  const turn = state.rotation.turn;

  useEffect(() => {
    const kind = signalOf(before.current, state.phase);
    before.current = state.phase;
    if (on && kind) play(audio.current, kind);
  }, [state.phase, turn]);
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
