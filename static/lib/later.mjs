// Modules that come after a page's first load.

import { useEffect, useState } from '../vendor/preact-htm.mjs';

const patience = 2_000; // ms until what did not come is asked for again

// arrived resolves to what load loads, however often the hub is away meanwhile.
export async function arrived(load) {
  for (;;) {
    try {
      return await load();
    } catch {
      await new Promise((done) => { setTimeout(done, patience); });
    }
  }
}

// useLater is what load resolves to, or null until it is here; it is asked for
// once it is wanted.
export function useLater(wanted, load) {
  const [here, setHere] = useState(null);
  useEffect(() => { if (wanted) arrived(load).then((loaded) => setHere({ loaded })); }, [wanted]);
  return here && here.loaded;
}
