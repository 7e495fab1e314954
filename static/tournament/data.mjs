// What the pages ask the hub about tournaments. All resolve as ask does.

import { useCallback, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { ask, post } from '../lib/hub.mjs';
import { cleanCode, newID } from '../lib/protocol.mjs';

const every = 1000; // ms between looks
const unchanged = 304;
const notKept = 503; // as far as the hub knows

export const listTournaments = (key) => ask(key, '/tournaments');
export const createTournament = (key, wish) => post(key, '/tournaments', wish);

const address = (code, { boards, minutes }) => `/tournaments/${encodeURIComponent(code)}?boards=${encodeURIComponent(boards)}&minutes=${encodeURIComponent(minutes)}`;

export function tournamentInAddress() {
  return cleanCode(new URLSearchParams(location.search).get('id') ?? '');
}

// useTournament looks at a tournament again and again, and gives commands. pace is
// {boards, minutes}, for the estimate of what is left.
export function useTournament(code, pace, key = '') {
  const [tournament, setTournament] = useState(null);
  const [failed, setFailed] = useState(null); // {status} of the last look
  const tag = useRef('');
  const { boards, minutes } = pace;

  // look resolves to what is there now, or to nothing new.
  const look = useCallback(async () => {
    const { answer, data, status } = await ask('', address(code, { boards, minutes }), { headers: { 'If-None-Match': tag.current }, cache: 'no-store' });
    setFailed(answer ? null : { status });
    if (!answer || answer.status === unchanged) return null;
    tag.current = answer.headers.get('ETag') ?? '';
    setTournament(data);
    return data;
  }, [code, boards, minutes]);

  useEffect(() => {
    let timer = 0;
    let over = false;
    async function again() {
      await look();
      if (!over) timer = setTimeout(again, every);
    }
    again();
    return () => {
      over = true;
      clearTimeout(timer);
    };
  }, [look]);

  // give sends a command once more where its answer was lost: its id makes
  // the second one change nothing.
  async function give(type, fields = {}) {
    const command = { type, id: newID(), ...fields };
    const at = address(code, { boards, minutes }).replace('?', '/commands?');
    let { data, status, message } = await post(key, at, command);
    if (status === 0 || status === notKept) ({ data, status, message } = await post(key, at, command));
    tag.current = '';
    if (data) setTournament(data);
    return { status, message, tournament: data ?? (await look()) };
  }

  return { tournament, failed, give };
}
