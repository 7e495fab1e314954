// What a host asks the hub about a game. All resolve as ask does.

import { ask, post, saveFile } from './hub.mjs';

const of = (code) => `?game=${encodeURIComponent(code)}`;

export const askDebrief = (key, code) => ask(key, `/debrief.json${of(code)}`);

// createGame makes a game, with from planned from that one's debrief.
export const createGame = (key, from) => post(key, '/games', from && { from });

// followGame makes, or finds, the game that an ended one's teams go on to;
// steered has the debrief say what is asked.
export const followGame = (key, code, steered) => post(key, `/games/${encodeURIComponent(code)}/next`, { steered });

// askHostCode finds the {text} of a drawing that a phone scans to host: it
// carries the key.
export async function askHostCode(key, code) {
  const { answer, message } = await ask(key, `/host-qr.svg${of(code)}`);
  return answer ? { text: await answer.text() } : { message };
}

// savePaper saves a PDF of a game's questions. want has its kind, and where they are
// chosen its round, size and perPage.
export const savePaper = (key, code, want) => saveFile(key, `/paper${of(code)}&${new URLSearchParams(want)}`);

export const saveResults = (key, code) => saveFile(key, `/results.csv${of(code)}`, `${code}.csv`);

// askQuestions finds a round's {questions, plates}.
export const askQuestions = (key, code, round) => ask(key, `/questions.json${of(code)}&round=${encodeURIComponent(round)}`);

export const saveSet = (key, code, name) =>
  saveFile(key, `/set${of(code)}&name=${encodeURIComponent(name)}`, `${name.replace(/[^\p{L}\p{N}]+/gu, '-') || 'set'}.jsonl`);

// loadSet finds the {title} of the new plan.
export const loadSet = (key, code, file) => ask(key, `/set${of(code)}`, { method: 'POST', body: file });
