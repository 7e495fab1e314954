// Canned screens of tournaments for the gallery.

import { tournaments } from './tournament-states.mjs';
import { called } from '../words/called.mjs';
import { hub } from '../words/common.mjs';
import { tournament as words } from '../words/tournament.mjs';

const clock = new Date(2026, 4, 9, 14, 30).getTime();
const pace = { minutes: 10 };
const plan = { open: 4, buzz: 2, seconds: 20, season: '' };
const formats = ['double', 'single-32', 'robin', 'swiss', 'pools', 'pools-drawn', 'double-ended'];

const host = (view, props) => ({ page: 'host tournament-page', view, props });
const desk = (tournament, props = {}) => host('TournamentConsole', { tournament, pace, plan, clock, message: '', ...props });
const shown = (tournament, props = {}) => ({ page: 'tournament-public', view: 'TournamentBoard', props: { tournament, clock, ...props } });
// As seen by a board, and by a phone of an entrant.
const stays = (tournament, props = {}) => ({ page: 'game board', view: 'Interval', props: { tournament, board: 1, ...props } });
const phone = (tournament, entrant, props = {}) => ({ page: 'team', view: 'TeamWaits', props: { tournament, entrant, ...props } });
const choosing = (tournament, props = {}) => ({ page: 'team', view: 'ChooseTeam', props: { tournament, ...props } });
const side = (taken, props = {}) => ({ page: 'team', view: 'SideForm', props: { seats: [{ name: 'Marsh Wrens', taken }, { name: 'Thicket Salamanders East', taken: false }], ...props } });

const sideOf = (id) => tournaments.double.columns.flatMap((c) => c.matches).find((m) => m.id === id).home.entrant;
const listed = ['entry', 'double', 'double-ended'].map((name, i) => ({ code: tournaments[name].code, name: i === 1 ? '' : tournaments[name].name, phase: tournaments[name].phase }));
// As where a match's game has ended level, and another without one of its sides.
const [level, running] = tournaments.double.ready.concat(Object.keys(tournaments.double.games).map(Number));
const game = { code: 'otter-burrow-42', phase: 'ended', playOff: false, recorded: false };
const waiting = { ...tournaments.double, ready: [], games: { [running]: { ...game, scores: [250, 250] }, [level]: { ...game, scores: null } } };
// As where a match is called to the first board and another is played at the second.
const [next, running2] = [tournaments.double.ready[0] ?? running, running];
const bothBoards = { ...tournaments.double, boards: 2, at: [next, running2] };
const idle = { ...tournaments.double, at: [0, running2], ready: [] };
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
  'board-entry': stays(tournaments.entry),
  'board-called': stays(bothBoards, { before: 1 }),
  'board-free': stays(idle, { board: 1, before: 2, lost: true }),
  'board-level': stays({ ...waiting, at: [running, level] }),
  'board-robin': stays(tournaments.robin),
  'board-swiss': stays(tournaments.swiss),
  'board-pools': stays(tournaments['pools-drawn']),
  'board-single-32': stays(tournaments['single-32']),
  'board-cup-ended': stays(tournaments['double-ended']),
  'board-none': { page: 'game board', view: 'NoBoard', props: { board: 3, of: 2 } },
  'team-choose': choosing(tournaments.entry),
  'team-choose-freed': choosing(tournaments.double, { message: called.freed }),
  'team-choose-none': choosing({ ...tournaments.entry, order: [], entrants: [], seats: {} }),
  'team-signed-in': phone(tournaments.entry, 2),
  ...Object.fromEntries(tournaments.double.order.map((e) => [`team-way-${e}`, phone(bothBoards, e)])),
  'team-looks-on': phone(bothBoards, sideOf(running2), { looking: true }),
  'team-level': phone(waiting, sideOf(running)),
  'team-back': phone(bothBoards, sideOf(running2), { left: bothBoards.games[running2].code, review: { href: '#', count: 3 }, lost: true }),
  'team-pausing': phone({ ...tournaments.swiss, columns: tournaments.swiss.columns.slice(0, 2), ready: [], games: {} }, 3),
  'team-first': phone(tournaments['double-ended'], tournaments['double-ended'].ranking[0].entrant),
  'team-out': phone(tournaments['double-ended'], tournaments['double-ended'].ranking[5].entrant),
  'team-side': side(false),
  'team-side-taken': side(true, { stop: { code: 'name_taken' } }),
  'team-side-freed': { page: 'team', view: 'Freed', props: {} },
};
