// Animals by their names in the reader's language. What the hub sends names
// them in English; the other names come once, so that no frame grows.

import { language } from './language.mjs';
import { species } from '../words/common.mjs';

const source = 'en';
let spoken = source;
const patience = 3_000;
const names = new Map(); // by the English name in lower case

// learn takes names by language and English name.
export function learn(byLanguage) {
  for (const [english, name] of Object.entries(byLanguage?.[language] ?? {})) names.set(english.toLowerCase(), name);
}

// learnNames asks the hub for them. It always resolves: without them the
// English names stay.
export async function learnNames() {
  if (language === source) return;
  try {
    const answer = await fetch('/names.json', { signal: AbortSignal.timeout(patience) });
    if (answer.ok) learn(await answer.json());
  } catch { /* the hub is away; what the page asks it next will say so */ }
}

// known tells whether a text is the English name of an animal with a name of
// the reader's own.
export const known = (text) => names.has(text.toLowerCase());

// misleads tells whether an English name is, to the reader, that of another animal: a
// nutria is a coypu in English, and an otter in Spanish.
const misleads = (text) => [...names].some(([english, own]) => english !== text.toLowerCase() && own.toLowerCase().split(' ')[0] === text.toLowerCase());

// named puts the reader's own name of an animal before its English one, which
// prompts and reasons use; any other text stays as it is.
export function named(text) {
  const own = names.get(text.toLowerCase());
  if (!own) return text;
  return misleads(text) ? own : species.both(own, text);
}

// speak tells the language of a game's questions: what is shown of them is marked
// with it. Nothing means English.
export const speak = (tag) => { spoken = tag || source; };

// tongue is the language of a question's text, or of what is said of its
// drawing, where it is not the page's.
export const tongue = (text) => (known(text) || spoken === language ? undefined : spoken);
