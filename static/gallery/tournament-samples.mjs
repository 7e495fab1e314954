// Canned screens of tournaments for the gallery.

import { tournaments } from './tournament-states.mjs';
import { hub } from '../words/common.mjs';
import { tournament as words } from '../words/tournament.mjs';

const clock = new Date(2026, 4, 9, 14, 30).getTime();
const pace = { boards: 2, minutes: 10 };
const plan = { open: 4, buzz: 2, seconds: 20, season: '' };
const formats = ['double', 'single-32', 'robin', 'swiss', 'pools', 'pools-drawn', 'double-ended'];

const host = (view, props) => ({ page: 'host tournament-page', view, props });
const desk = (tournament, props = {}) => host('TournamentConsole', { tournament, pace, plan, clock, message: '', ...props });
const shown = (tournament, props = {}) => ({ page: 'tournament-public', view: 'TournamentBoard', props: { tournament, clock, ...props } });
const side = (taken, props = {}) => ({ page: 'team', view: 'SideForm', props: { seats: [{ name: 'Marsh Wrens', taken }, { name: 'Thicket Salamanders East', taken: false }], ...props } });

const listed = ['entry', 'double', 'double-ended'].map((name, i) => ({ code: tournaments[name].code, name: i === 1 ? '' : tournaments[name].name, phase: tournaments[name].phase }));
// As where a match's game has ended level, and another without one of its sides.
const [level, running] = tournaments.double.ready.concat(Object.keys(tournaments.double.games).map(Number));
const game = { code: 'otter-burrow-42', phase: 'ended', playOff: false, recorded: false };
const waiting = { ...tournaments.double, ready: [], games: { [running]: { ...game, scores: [250, 250] }, [level]: { ...game, scores: null } } };
// As where nothing parts three teams of a table.
const tied = { ...tournaments.robin, level: [[2, 5, 7]], ready: [] };

export const tournamentSamples = {
  'tournament-none': host('ChooseTournament', { tournaments: [] }),
  'tournament-choose': host('ChooseTournament', { tournaments: listed, message: words.unknown }),
  'tournament-entry': desk(tournaments.entry),
  ...Object.fromEntries(formats.map((name) => [`tournament-${name}`, desk(tournaments[name])])),
  'tournament-refused': desk(tournaments.double, { message: hub.refused({ code: 'busy', message: 'One of the two is playing match 10.' }) }),
  'tournament-voided': desk({ ...tournaments.double, voided: [7, 9] }),
  'tournament-waiting': desk(waiting),
  'tournament-level': desk(tied),
  'tournament-result': host('ResultDialog', { tournament: tournaments.double, id: running }),
  'tournament-correct': host('ResultDialog', { tournament: tournaments.double, id: 1 }),
  'bracket-entry': shown(tournaments.entry),
  ...Object.fromEntries(formats.map((name) => [`bracket-${name}`, shown(tournaments[name])])),
  'bracket-lost': shown(tournaments.double, { lost: true }),
  'bracket-unknown': { page: 'tournament-public', view: 'NoTournament', props: { message: words.unknown } },
  'team-side': side(false),
  'team-side-taken': side(true, { stop: { code: 'name_taken' } }),
  'team-side-freed': { page: 'team', view: 'Freed', props: {} },
};
