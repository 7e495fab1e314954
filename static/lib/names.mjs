// Team names to suggest.

import { nicknames } from '../words/team.mjs';

function pick(list) {
  return list[crypto.getRandomValues(new Uint32Array(1))[0] % list.length];
}

export function suggestName() {
  return nicknames.name(pick(nicknames.places), pick(nicknames.animals));
}
