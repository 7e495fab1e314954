// What pages ask the hub with the host key, or for what anyone may see.

import { common, hub, joining } from '../words/common.mjs';

const unchanged = 304;

// ask always resolves: to {status, data, answer}, or where the hub refuses to
// {status, message} with the reason in the reader's language. The status is 0
// where the hub does not answer.
export async function ask(key, address, { method = 'GET', body, headers, cache } = {}) {
  try {
    const answer = await fetch(address, { method, body, cache, headers: { ...headers, ...(key && { Authorization: `Bearer ${key}` }) } });
    const { ok, status } = answer;
    const data = answer.headers.get('Content-Type') === 'application/json' ? await answer.json() : {};
    if (ok || status === unchanged) return { status, data, answer };
    return { status, message: hub.refused(data) || common.refusedWith(status) };
  } catch {
    return { status: 0, message: joining.unreachable };
  }
}

export const post = (key, address, body) => ask(key, address, { method: 'POST', body: JSON.stringify(body) });

const named = /filename="?([^";]+)/;

// saveFile hands an answer to the browser as a file, under the name that is
// given or the hub's own. A plain link could not show the key.
export async function saveFile(key, address, name) {
  const { answer, ...refusal } = await ask(key, address);
  if (!answer) return refusal;
  const link = document.createElement('a');
  link.href = URL.createObjectURL(await answer.blob());
  link.download = name ?? answer.headers.get('Content-Disposition').match(named)[1];
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return {};
}
