// What the pages ask the hub about tournaments. All resolve to {status,
// message} where the hub refuses, in the reader's language, with status 0 where
// it does not answer.

import { useCallback, useEffect, useRef, useState } from './vendor/preact-htm.mjs';
import { cleanCode, newID } from './protocol.mjs';
import { hub } from './words.mjs';

const every = 1000; // ms between looks
const unchanged = 304;
const notKept = 503; // as far as the hub knows

async function ask(address, options = {}) {
  try {
    const answer = await fetch(address, options);
    if (answer.ok || answer.status === unchanged) return { answer };
    const refusal = await answer.json().catch(() => ({}));
    return { status: answer.status, message: hub.refused(refusal) ?? '' };
  } catch {
    return { status: 0 };
  }
}

const withKey = (key, body) => ({
  method: body ? 'POST' : 'GET', headers: { Authorization: `Bearer ${key}` }, ...(body && { body: JSON.stringify(body) }),
});

async function json(asked) {
  const { answer, ...refused } = await asked;
  return answer ? { got: await answer.json() } : refused;
}

export const listCups = (key) => json(ask('/tournaments', withKey(key)));
export const createCup = (key, wish) => json(ask('/tournaments', withKey(key, wish)));

const address = (code, { boards, minutes }) => `/tournaments/${encodeURIComponent(code)}?boards=${encodeURIComponent(boards)}&minutes=${encodeURIComponent(minutes)}`;

export function cupInAddress() {
  return cleanCode(new URLSearchParams(location.search).get('id') ?? '');
}

// useCup looks at a tournament again and again, and gives commands. pace is
// {boards, minutes}, for the estimate of what is left.
export function useCup(code, pace, key = '') {
  const [cup, setCup] = useState(null);
  const [failed, setFailed] = useState(null); // {status} of the last look
  const tag = useRef('');
  const { boards, minutes } = pace;

  // look resolves to what is there now, or to nothing new.
  const look = useCallback(async () => {
    const { answer, status } = await ask(address(code, { boards, minutes }), { headers: { 'If-None-Match': tag.current }, cache: 'no-store' });
    setFailed(answer ? null : { status });
    if (!answer || answer.status === unchanged) return null;
    tag.current = answer.headers.get('ETag') ?? '';
    const found = await answer.json();
    setCup(found);
    return found;
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
    const command = withKey(key, { type, id: newID(), ...fields });
    const at = address(code, { boards, minutes }).replace('?', '/commands?');
    let { got, status, message } = await json(ask(at, command));
    if (status === 0 || status === notKept) ({ got, status, message } = await json(ask(at, command)));
    tag.current = '';
    if (got) setCup(got);
    return { status, message, cup: got ?? (await look()) };
  }

  return { cup, failed, give };
}
