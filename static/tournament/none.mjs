// What a page shows that finds no tournament.

import { html } from '../vendor/preact-htm.mjs';
import { Heading, Message } from '../parts/parts.mjs';
import { tournament as words } from '../words/tournament.mjs';

export function NoTournament({ message }) {
  return html`<main class="sheet"><${Heading}>${words.title}<//><${Message} text=${message} /></main>`;
}
