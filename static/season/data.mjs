// What the pages on many games ask the hub. All resolve as ask does.

import { ask, post, saveFile } from '../lib/hub.mjs';

// query leaves out what is empty.
function query(fields) {
  const of = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) {
    for (const v of [value].flat()) if (v) of.append(name, v);
  }
  return of.size > 0 ? `?${of}` : '';
}

const remove = (key, address) => ask(key, address, { method: 'DELETE' });

export const askSeason = (key, season, until) => ask(key, `/season.json${query({ season, until })}`);
export const setSeason = (key, season) => post(key, '/seasons', season);
export const countGame = (key, season, game, out = false) => post(key, '/seasons/game', { season, game, out });
export const eraseSeason = (key, season) => remove(key, `/seasons${query({ season })}`);
export const eraseTeam = (key, season, team) => remove(key, `/seasons${query({ season, team })}`);
export const saveSeason = (key, season) => saveFile(key, `/season.csv${query({ season })}`, 'season.csv');
export const askFairTeams = (key, wish) => post(key, '/fair-teams.json', wish);
export const askTrends = (key, season, games) => ask(key, `/trends.json${query({ season, game: games })}`);
export const askBoard = (season) => ask('', `/season/board.json${query({ season })}`);
