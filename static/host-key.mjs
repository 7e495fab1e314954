// The host key of this tab, which the host's pages share.

import { thisTab } from './storage.mjs';

const name = 'fieldsign.host.key';

export const hostKey = {
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
