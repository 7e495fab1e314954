// The host key of this tab, which the host's pages share.

import { useState } from '../vendor/preact-htm.mjs';
import { thisTab } from './storage.mjs';
import { hostKey as words } from '../words/key.mjs';

const name = 'fieldsign.host.key';

const hostKey = {
  // get takes the key out of the address, so that it is neither shown on a
  // projector nor kept in the history.
  get() {
    const key = new URLSearchParams(location.hash.slice(1)).get('key');
    if (key) {
      thisTab.set(name, key);
      history.replaceState(null, '', location.pathname + location.search);
    }
    return thisTab.get(name) ?? '';
  },
  set: (key) => thisTab.set(name, key),
  drop: () => thisTab.drop(name),
};

// useHostKey is the key of a page that needs it, and what was wrong with the
// last one; KeyForm takes problem and enterKey.
export function useHostKey() {
  const [key, setKey] = useState(hostKey.get);
  const [problem, setProblem] = useState('');

  function enterKey(entered) {
    hostKey.set(entered);
    setProblem('');
    setKey(entered);
  }

  function refuseKey() {
    hostKey.drop();
    setProblem(words.wrongKey);
    setKey('');
  }

  return { key, problem, setProblem, enterKey, refuseKey };
}
