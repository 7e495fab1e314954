// What a host asks the hub about a game, each with the host key. All resolve
// to {status} where the hub refuses, with status 0 where it does not answer.

import { hub, planning } from './words.mjs';

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
  await keep(answer, name);
  return {};
}

async function keep(answer, name) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(await answer.blob());
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// The plan's questions and sets resolve to {message} where the hub refuses.

async function refusalOf(answer) {
  return { message: answer.status ? hub.refused(await answer.json()) : planning.noAnswer };
}

// askQuestions resolves to {questions, plates} of a round.
export async function askQuestions(key, code, round) {
  const answer = await ask(key, `/questions.json${of(code)}&round=${encodeURIComponent(round)}`);
  return answer.ok ? answer.json() : refusalOf(answer);
}

export async function saveSet(key, code, name) {
  const answer = await ask(key, `/set${of(code)}&name=${encodeURIComponent(name)}`);
  if (!answer.ok) return refusalOf(answer);
  await keep(answer, `${name.replace(/[^\p{L}\p{N}]+/gu, '-') || 'set'}.jsonl`);
  return {};
}

// loadSet resolves to the {title} of the new plan.
export async function loadSet(key, code, file) {
  const answer = await ask(key, `/set${of(code)}`, { method: 'POST', body: file });
  return answer.ok ? answer.json() : refusalOf(answer);
}
