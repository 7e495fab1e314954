// What a team did not know in a game, kept on its phone until the game's end,
// to be gone over in practice: facts as practice names them.

import { useEffect } from '../vendor/preact-htm.mjs';
import { lasting } from '../lib/storage.mjs';

const most = 30;
const keyOf = (code) => `fieldsign.missed.${code}`;

export function missed(code) {
  try {
    const list = JSON.parse(lasting.get(keyOf(code)));
    return Array.isArray(list) ? list.filter((fact) => typeof fact === 'string').slice(0, most) : [];
  } catch {
    return [];
  }
}

// useMissed notes what a reveal told that the team had wrong or not at all.
export function useMissed(state, you) {
  const { lesson, skipped, undone } = state.reveal ?? {};
  const fact = lesson?.trait && ['wrong', 'late', 'none'].includes(you.verdict) && !skipped && !undone ? `${lesson.sides[0].latin}|${lesson.trait}` : '';
  useEffect(() => {
    const list = missed(state.code);
    if (fact && !list.includes(fact)) lasting.set(keyOf(state.code), JSON.stringify([...list, fact].slice(-most)));
  }, [fact]);
}

// practiceOf is where they are gone over. What is behind a # is sent to nobody.
export const practiceOf = (facts) => `/practice#${new URLSearchParams(facts.map((fact) => ['fact', fact]))}`;
