// Canned screens of tournaments for the gallery.

import { cups } from './tournament-states.mjs';
import { hub } from '../words/common.mjs';
import { tournament as words } from '../words/tournament.mjs';

const clock = new Date(2026, 4, 9, 14, 30).getTime();
const pace = { boards: 2, minutes: 10 };
const plan = { open: 4, buzz: 2, seconds: 20, season: '' };
const formats = ['double', 'single-32', 'robin', 'swiss', 'pools', 'pools-drawn', 'double-ended'];

const host = (view, props) => ({ page: 'host tournament-page', view, props });
const desk = (cup, props = {}) => host('CupConsole', { cup, pace, plan, clock, message: '', ...props });
const shown = (cup, props = {}) => ({ page: 'bracket-page', view: 'CupScreen', props: { cup, clock, ...props } });
const side = (taken, props = {}) => ({ page: 'team', view: 'SideForm', props: { seats: [{ name: 'Marsh Wrens', taken }, { name: 'Thicket Salamanders East', taken: false }], ...props } });

const listed = ['entry', 'double', 'double-ended'].map((name, i) => ({ code: cups[name].code, name: i === 1 ? '' : cups[name].name, phase: cups[name].phase }));
// As where a match's game has ended level, and another without one of its sides.
const [level, running] = cups.double.ready.concat(Object.keys(cups.double.games).map(Number));
const game = { code: 'otter-burrow-42', phase: 'ended', playOff: false, recorded: false };
const waiting = { ...cups.double, ready: [], games: { [running]: { ...game, scores: [250, 250] }, [level]: { ...game, scores: null } } };
// As where nothing parts three teams of a table.
const tied = { ...cups.robin, level: [[2, 5, 7]], ready: [] };

export const tournamentSamples = {
  'tournament-none': host('ChooseCup', { cups: [] }),
  'tournament-choose': host('ChooseCup', { cups: listed, message: words.unknown }),
  'tournament-entry': desk(cups.entry),
  ...Object.fromEntries(formats.map((name) => [`tournament-${name}`, desk(cups[name])])),
  'tournament-refused': desk(cups.double, { message: hub.refused({ code: 'busy', message: 'One of the two is playing match 10.' }) }),
  'tournament-voided': desk({ ...cups.double, voided: [7, 9] }),
  'tournament-waiting': desk(waiting),
  'tournament-level': desk(tied),
  'tournament-result': host('ResultDialog', { cup: cups.double, id: running }),
  'tournament-correct': host('ResultDialog', { cup: cups.double, id: 1 }),
  'bracket-entry': shown(cups.entry),
  ...Object.fromEntries(formats.map((name) => [`bracket-${name}`, shown(cups[name])])),
  'bracket-lost': shown(cups.double, { lost: true }),
  'bracket-unknown': { page: 'bracket-page', view: 'NoCup', props: { message: words.unknown } },
  'team-side': side(false),
  'team-side-taken': side(true, { stop: { code: 'name_taken' } }),
  'team-side-freed': { page: 'team', view: 'Freed', props: {} },
};
