// The words that the pages show, in the reader's language.

import { language } from './language.mjs';
import * as en from './words/en.mjs';
import * as es from './words/es.mjs';

// Each language has all of these; a group that is added to them is added here.
export const {
  common, landing, team, board, practice, host, debrief, photos, stops, announce, gallery, nicknames, pages, hub, species, club, keeping, planning, station, tournament,
} = { en, es }[language];

const title = pages.titles[[...document.documentElement.classList].at(-1)];
document.title = title ? `${title} · ${common.name}` : common.name;
