// What the host's pages on many games ask the hub, each with the host key.

import { ask, saveFile } from './results.mjs';
import { hub } from './words.mjs';

// query leaves out what is empty.
function query(fields) {
  const of = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) {
    for (const v of [value].flat()) if (v) of.append(name, v);
  }
  return of.size > 0 ? `?${of}` : '';
}

// Each resolves to {data}, or to {status, message} where the hub refuses, in the
// reader's language, with status 0 where it does not answer.
async function told(answer) {
  if (answer.status === 204) return { data: {} };
  const data = answer.json ? await answer.json().catch(() => ({})) : {};
  return answer.ok ? { data } : { status: answer.status, message: hub.refused(data) };
}

const get = async (key, address) => told(await ask(key, address));
const post = async (key, address, body) => told(await ask(key, address, { method: 'POST', body: JSON.stringify(body) }));
const remove = async (key, address) => told(await ask(key, address, { method: 'DELETE' }));

export const askSeason = (key, season, until) => get(key, `/season.json${query({ season, until })}`);
export const setSeason = (key, season) => post(key, '/seasons', season);
export const countGame = (key, season, game, out = false) => post(key, '/seasons/game', { season, game, out });
export const eraseSeason = (key, season) => remove(key, `/seasons${query({ season })}`);
export const eraseTeam = (key, season, team) => remove(key, `/seasons${query({ season, team })}`);
export const saveSeason = (key, season) => saveFile(key, `/season.csv${query({ season })}`, 'season.csv');
export const askFairTeams = (key, wish) => post(key, '/fair-teams.json', wish);
export const askTrends = (key, season, games) => get(key, `/trends.json${query({ season, game: games })}`);
export const askBoard = (season) => get('', `/season/board.json${query({ season })}`);
