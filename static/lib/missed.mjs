// What a team missed in its last games, on its phone: each question whole, with its
// drawings, since the hub shows them no more. So many fit into a page's storage.

import { lasting } from './storage.mjs';

const most = 30;
const mostGames = 3;
const all = 'fieldsign.missed'; // the games' codes
const keyOf = (code) => `fieldsign.missed.${code}`;

const games = () => JSON.parse(lasting.get(all) ?? '[]');

// missed are a game's questions as practice has them, but for plate, a drawing, and
// plates, drawings as options: {svg, alt}; and lesson, what the reveal taught.
export function missed(code) {
  try {
    const list = JSON.parse(lasting.get(keyOf(code)));
    return Array.isArray(list) ? list.filter((q) => typeof q?.prompt === 'string' && Array.isArray(q.options)).slice(0, most) : [];
  } catch {
    return [];
  }
}

// keepMissed adds a question, each once; games long past are let go.
export function keepMissed(code, question) {
  const list = missed(code);
  if (list.some((q) => q.id === question.id)) return;
  const kept = [...games().filter((game) => game !== code), code];
  for (const game of kept.splice(0, kept.length - mostGames)) lasting.drop(keyOf(game));
  lasting.set(all, JSON.stringify(kept));
  lasting.set(keyOf(code), JSON.stringify([...list, question].slice(-most)));
}

export function forgetMissed() {
  for (const game of games()) lasting.drop(keyOf(game));
  lasting.drop(all);
}

// practiceOf is where a game's are gone over. What is behind a # is sent to nobody.
export const practiceOf = (code) => `/practice#${new URLSearchParams({ game: code })}`;

// withMissed adds them to an exercise, behind its own. Of a typed question the other
// answers are other animals.
export function withMissed(exercise, list) {
  const plates = [...exercise.plates];
  const lessons = [...(exercise.lessons ?? [])];
  const put = (into, one) => (one ? into.push(one) - 1 : undefined);
  const questions = list.map((q) => {
    const options = q.typed ? among(q.options[0], Object.values(exercise.names)) : q.options;
    const lesson = put(lessons, q.lesson);
    return {
      ...q, options, key: q.typed ? options.indexOf(q.options[0]) : q.key, plate: put(plates, q.plate),
      plates: q.plates?.map((p) => put(plates, p)), lessons: q.lesson && options.map(() => lesson),
    };
  });
  return { ...exercise, plates, lessons, questions: [...exercise.questions, ...questions] };
}

// among are a name and three others, in the order of the alphabet.
function among(name, others) {
  const rest = [...new Set(others)].filter((other) => other !== name).sort(() => Math.random() - 0.5);
  return [name, ...rest.slice(0, 3)].sort((a, b) => a.localeCompare(b));
}
