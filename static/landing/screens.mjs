// The landing page's screen: a join code leads to the team's page.

import { html } from '../vendor/preact-htm.mjs';
import { CodeForm, Languages, Spot } from '../parts/parts.mjs';
import { common } from '../words/common.mjs';
import { landing } from '../words/landing.mjs';

export function Landing() {
  return html`
    <main class="sheet">
      <div class="top"><h1>${common.name}</h1><${Languages} /></div>
      <p class="lead">${landing.lead}</p>
      <p class="spots"><${Spot} name="fox-skull" /><${Spot} name="raccoon-print" /><${Spot} name="coyote-scat" /></p>
      <${CodeForm} go=${(code) => location.assign(`/team?game=${encodeURIComponent(code)}`)} />
      <nav>
        <ul class="ways">
          <li><a href="/practice">${landing.practice}</a><p class="hint">${landing.practiceHint}</p></li>
          <li><a href="/host">${landing.host}</a><p class="hint">${landing.hostHint}</p></li>
          <li><a href="/tournament">${landing.tournament}</a><p class="hint">${landing.tournamentHint}</p></li>
          <li><a href="/season-plan">${landing.season}</a><p class="hint">${landing.seasonHint}</p></li>
          <li><a href="/foodweb">${landing.foodweb}</a><p class="hint">${landing.foodwebHint}</p></li>
          <li><a href="/board">${landing.board}</a><p class="hint">${landing.boardHint}</p></li>
        </ul>
      </nav>
      <p class="caution">${landing.caution}</p>
    </main>`;
}
