// What the pages ask the hub about tournaments. All resolve as ask does.

import { useCallback, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { ask, post } from '../lib/hub.mjs';
import { cleanCode, newID } from '../lib/codes.mjs';

const usual = () => 1000; // ms between looks
const unchanged = 304;
const notKept = 503; // as far as the hub knows

export const listTournaments = (key) => ask(key, '/tournaments');
export const createTournament = (key, wish) => post(key, '/tournaments', wish);

const address = (code, minutes) => `/tournaments/${encodeURIComponent(code)}?minutes=${encodeURIComponent(minutes)}`;

export function tournamentInAddress() {
  return cleanCode(new URLSearchParams(location.search).get('id') ?? '');
}

// useTournament looks at a tournament again and again, and gives commands. pace is
// {minutes}, for the estimate of what is left; every says how long to wait for the
// next look at what was seen.
export function useTournament(code, pace, key = '', every = usual) {
  const [tournament, setTournament] = useState(null);
  const [failed, setFailed] = useState(null); // {status} of the last look
  const tag = useRef('');
  const seen = useRef(null); // last
  const underWay = useRef(new Map()); // commands not yet answered
  const answered = useRef(0); // commands so far
  const { minutes } = pace;

  // look resolves to what is there now, or to nothing new. What was asked for
  // before a command was answered may be older than that answer.
  const look = useCallback(async () => {
    const before = answered.current;
    const { answer, data, status } = await ask('', address(code, minutes), { headers: { 'If-None-Match': tag.current }, cache: 'no-store' });
    setFailed(answer ? null : { status });
    if (!answer || answer.status === unchanged || before !== answered.current) return null;
    tag.current = answer.headers.get('ETag') ?? '';
    seen.current = data;
    setTournament(data);
    return data;
  }, [code, minutes]);

  useEffect(() => {
    let timer = 0;
    let over = false;
    async function again() {
      await look();
      if (!over) timer = setTimeout(again, seen.current ? every(seen.current) : usual());
    }
    // A phone that wakes up does not wait its turn.
    function hurry() {
      if (document.visibilityState === 'visible') look();
    }
    again();
    document.addEventListener('visibilitychange', hurry);
    return () => {
      over = true;
      clearTimeout(timer);
      document.removeEventListener('visibilitychange', hurry);
    };
  }, [look]);

  // send sends a command once more where its answer was lost: its id makes
  // the second one change nothing.
  async function send(type, fields) {
    const command = { type, id: newID(), ...fields };
    const at = address(code, minutes).replace('?', '/commands?');
    let { data, status, message } = await post(key, at, command);
    if (status === 0 || status === notKept) ({ data, status, message } = await post(key, at, command));
    tag.current = '';
    answered.current++;
    if (data) setTournament(data);
    return { status, message, tournament: data ?? (await look()) };
  }

  // give sends a command. A second press of the same button before the hub has
  // answered is the first one's.
  function give(type, fields = {}) {
    const what = JSON.stringify([type, fields]);
    const sent = underWay.current.get(what) ?? send(type, fields).finally(() => underWay.current.delete(what));
    underWay.current.set(what, sent);
    return sent;
  }

  return { tournament, failed, give };
}

const seat = (what) => (code, entrant, token) => post('', `/tournaments/${encodeURIComponent(code)}/${what}`, { entrant, token });
export const sit = seat('sit');
export const stand = seat('stand');
