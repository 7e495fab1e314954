// Notes on a team's phone what it did not know, to be gone over in practice.

import { useEffect } from '../vendor/preact-htm.mjs';
import { keepMissed } from '../lib/missed.mjs';

// useMissed keeps a question that the team had wrong or not at all. A photo stays
// with the hub.
export function useMissed(state, you) {
  const { reveal, question } = state;
  const wanted = reveal && !reveal.skipped && !reveal.undone && !question.credit && ['wrong', 'late', 'none'].includes(you.verdict);
  useEffect(() => {
    if (wanted) kept(question, reveal).then((q) => keepMissed(state.code, q), () => {}); // a drawing that is gone can't be asked about
  }, [wanted && question.id]);
}

async function kept({ id, subject, prompt, typed, options, plate, plateAlt, plates }, { key, reason, lesson }) {
  const sides = await Promise.all((lesson?.sides ?? []).map(async (s) => ({ ...s, plate: '', svg: s.plate && (await drawing(s.plate)) })));
  return {
    id, subject, prompt, typed, options, key, reason,
    facts: lesson?.trait ? [`${sides[0].latin}|${lesson.trait}`] : [],
    ...(plate && { plate: { svg: await drawing(plate), alt: plateAlt } }),
    ...(plates?.length > 0 && { plates: await Promise.all(plates.map(async (p) => ({ svg: await drawing(p.plate), alt: p.plateAlt }))) }),
    ...(lesson && { lesson: { ...lesson, sides } }),
  };
}

async function drawing(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(address);
  return answer.text();
}
