// The reader's language: what the address says (?lang=es), else what was chosen
// on this device, else that of the page from which this one was saved, else what
// the browser asks for, else English.

import { lasting } from './storage.mjs';

export const languages = { en: 'English', es: 'Español' };

const kept = 'fieldsign.language';

const wishes = [new URLSearchParams(location.search).get('lang'), lasting.get(kept), document.documentElement.dataset.language, ...navigator.languages];

export const language = wishes.map((wish) => String(wish).split('-')[0].toLowerCase()).find((l) => Object.hasOwn(languages, l)) ?? 'en';

document.documentElement.lang = language;

export const keepLanguage = (chosen) => lasting.set(kept, chosen);

// inLanguage is this page's address in another language, for a browser that keeps nothing.
export function inLanguage(other) {
  const address = new URL(location.href);
  address.searchParams.set('lang', other);
  return address.href;
}
