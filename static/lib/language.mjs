// The reader's language, which the hub has put into the page: what the address
// says (?lang=es), else what was chosen on this device, else what the browser
// asks for, else English.

import { lasting } from './storage.mjs';

export const languages = { en: 'English', es: 'Español' };

const kept = 'fieldsign.language';
const cookie = 'fieldsign-language'; // tells the hub
const year = 31_536_000; // seconds

export const language = document.documentElement.lang;

export function keepLanguage(chosen) {
  lasting.set(kept, chosen);
  document.cookie = `${cookie}=${chosen}; path=/; max-age=${year}; samesite=strict`;
}

// inLanguage is this page's address in another language, for a browser that keeps nothing.
export function inLanguage(other) {
  const address = new URL(location.href);
  address.searchParams.set('lang', other);
  return address.href;
}

// Where the cookie is lost, or a phone opens its kept page without the hub, the
// choice still holds: the page asks for itself in that language.
const chosen = lasting.get(kept);
const asked = new URLSearchParams(location.search).has('lang');
if (!asked && chosen !== language && Object.hasOwn(languages, chosen)) {
  keepLanguage(chosen);
  location.replace(inLanguage(chosen));
}
