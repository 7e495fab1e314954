// The socket to the hub: says hello, comes back by itself, repeats commands
// that were not yet acknowledged, and exchanges clocks. It knows no screen.

import { newID } from './codes.mjs';

const subprotocol = 'fieldsign.v1';
const firstStop = 4100; // close codes from here to 4199: do not come back
const lastStop = 4199;
// Closes, of which some are refusals of a hello by another name.
export const unknownCode = [firstStop, 'unknown_code'];
export const removed = 4101;
export const replaced = 4103;
export const wrongKey = [4104, 'not_host', 'wrong_key'];
export const badToken = 4107;
const absences = { 4000: 'restarting', 4002: 'later' }; // what the link is called till it is up again
const shortest = 300; // ms between attempts
const longest = 5000;
const clockEvery = 10_000;
const clockPatience = 8_000; // a hub silent for longer is taken for lost
const firstBurst = 8; // exchanges at the start, so that a jittery link has its one good one
const clockBurst = 3;
const calm = 1_000; // before a command that came too fast is sent again

// backoff grows with each failed attempt; the jitter keeps a roomful of
// phones from coming back in the same instant.
export function backoff(attempt) {
  const ceiling = Math.min(longest, shortest * 2 ** (attempt + 1));
  return shortest + Math.random() * (ceiling - shortest);
}

// completed adds what the hub leaves out because this console has been told it.
function completed(host, told) {
  if (host.whole) return host;
  const teams = new Map(told.teams.map((t) => [t.team, t]));
  for (const t of host.teams) teams.set(t.team, t);
  return { ...host, plan: told.plan, joinURL: told.joinURL, rosters: told.rosters, languages: told.languages, teams: [...teams.values()] };
}

// connect opens a socket that lasts until close() or until the hub says stop.
// hello(seen) gives the first frame of each attempt, given the seq of the last state. on has welcome, state, you,
// link ('connecting', 'up', 'lost', 'restarting', 'later') and stop ({code, message}).
export function connect({ code, hello, on }) {
  const scheme = location.protocol === 'https:' ? 'wss' : 'ws';
  const url = `${scheme}://${location.host}/socket?game=${encodeURIComponent(code)}`;
  const pending = new Map(); // id -> {frame, resolve}: not yet acknowledged
  let socket = null;
  let welcomed = false;
  let attempt = 0;
  let retry = 0;
  let finished = false;
  let absence = 'lost';
  let seen = 0;
  let question = null; // the last state's
  let told = null; // what the console knows of the game beyond the state
  const clock = exchange((frame) => write(frame), () => lose());

  function open() {
    clearTimeout(retry);
    retry = 0;
    welcomed = false;
    socket = new WebSocket(url, subprotocol);
    socket.onopen = () => write(hello(seen));
    socket.onmessage = (event) => receive(JSON.parse(event.data));
    socket.onclose = (event) => {
      if (event.code >= firstStop && event.code <= lastStop) stop(event.code, event.reason);
      else lose(absences[event.code]);
    };
  }

  function write(frame) {
    if (socket?.readyState === WebSocket.OPEN) socket.send(JSON.stringify(frame));
  }

  function receive(frame) {
    switch (frame.type) {
      case 'welcome':
        welcomed = true;
        attempt = 0;
        absence = 'lost';
        on.welcome(frame);
        on.link('up');
        clock.start();
        repeat();
        break;
      case 'state':
        seen = frame.seq;
        if (frame.same) frame.question = question;
        question = frame.question;
        if (frame.host) frame.host = told = completed(frame.host, told);
        on.state({ ...frame, at: performance.now() - clock.oneWay() });
        break;
      case 'you':
        on.you(frame);
        break;
      case 'done':
      case 'refused':
        settle(frame);
        break;
      case 'clock':
        clock.reply(frame);
        break;
    }
  }

  function settle(frame) {
    const waiting = pending.get(frame.id);
    pending.delete(frame.id);
    if (waiting) waiting.resolve(frame);
    else if (!welcomed) stop(frame.code, frame.message);
    else if (frame.code === 'too_fast') setTimeout(repeat, calm);
  }

  // repeat is safe: a command's id makes the second one change nothing.
  function repeat() {
    if (welcomed) for (const { frame } of pending.values()) write(frame);
  }

  function drop() {
    welcomed = false;
    clock.stop();
    if (!socket) return;
    socket.onopen = socket.onmessage = socket.onclose = null;
    socket.close();
    socket = null;
  }

  function lose(why) {
    drop();
    if (finished) return;
    absence = why ?? absence;
    on.link(absence);
    retry = setTimeout(open, backoff(attempt++));
  }

  function stop(code, message) {
    close();
    on.stop({ code, message });
    for (const { frame, resolve } of pending.values()) resolve({ type: 'refused', id: frame.id, code: 'stopped', message });
    pending.clear();
  }

  // A phone that wakes up or finds its network again does not wait its turn.
  function hurry() {
    if (retry && document.visibilityState === 'visible') open();
  }

  function close() {
    finished = true;
    clearTimeout(retry);
    drop();
    removeEventListener('online', hurry);
    document.removeEventListener('visibilitychange', hurry);
  }

  // command sends a frame under an id of its own, again after each return,
  // and resolves to the hub's done or refused.
  function command(fields) {
    const frame = { ...fields, id: newID() };
    return new Promise((resolve) => {
      pending.set(frame.id, { frame, resolve });
      if (welcomed) write(frame);
    });
  }

  addEventListener('online', hurry);
  document.addEventListener('visibilitychange', hurry);
  on.link('connecting');
  open();
  return { command, close };
}

// exchange runs RFC 5905's four timestamps in short bursts. Each answer is
// answered at once, so that the hub too sees a whole exchange from its side.
function exchange(write, onSilence) {
  let timer = 0;
  let patience = 0;
  let left = 0;
  let shortestTrip = Infinity;

  function ask() {
    left--;
    clearTimeout(patience);
    patience = setTimeout(onSilence, clockPatience);
    write({ type: 'clock', t1: performance.now() });
  }

  function burst(exchanges) {
    left = exchanges;
    ask();
  }

  return {
    start() {
      shortestTrip = Infinity;
      burst(firstBurst);
      timer = setInterval(burst, clockEvery, clockBurst);
    },
    reply({ t1, t2, t3 }) {
      clearTimeout(patience);
      shortestTrip = Math.min(shortestTrip, performance.now() - t1 - (t3 - t2));
      if (left > 0) ask();
    },
    stop() {
      clearInterval(timer);
      clearTimeout(patience);
    },
    // oneWay is how long a frame takes from the hub to here, as best known.
    oneWay() {
      return Number.isFinite(shortestTrip) ? Math.max(0, shortestTrip / 2) : 0;
    },
  };
}
