// What a host asks the hub about a game, each with the host key. All resolve
// to {status} where the hub refuses, with status 0 where it does not answer.

export async function ask(key, address, options = {}) {
  try {
    return await fetch(address, { ...options, headers: { Authorization: `Bearer ${key}` } });
  } catch {
    return { ok: false, status: 0 };
  }
}

const of = (code) => `?game=${encodeURIComponent(code)}`;

// askDebrief resolves to {report}.
export async function askDebrief(key, code) {
  const answer = await ask(key, `/debrief.json${of(code)}`);
  return answer.ok ? { report: await answer.json() } : { status: answer.status };
}

// createGame resolves to {code}; with from, the game is planned from that one's debrief.
export async function createGame(key, from = '') {
  const answer = await ask(key, '/games', { method: 'POST', body: from && JSON.stringify({ from }) });
  return answer.ok ? answer.json() : { status: answer.status };
}

export const saveResults = (key, code) => saveFile(key, `/results.csv${of(code)}`, `${code}.csv`);

// saveFile hands an answer to the browser as a file. A plain link could not
// show the key.
export async function saveFile(key, address, name) {
  const answer = await ask(key, address);
  if (!answer.ok) return { status: answer.status };
  const link = document.createElement('a');
  link.href = URL.createObjectURL(await answer.blob());
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  return {};
}
