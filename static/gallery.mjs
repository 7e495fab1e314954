// The gallery: a list of every screen; ?screen=NAME shows one alone, in its page's frame.

import { html, render } from './vendor/preact-htm.mjs';
import { BoardScreen } from './board-screens.mjs';
import { ChooseDebrief, Report } from './debrief-screens.mjs';
import { Dialog } from './dialog.mjs';
import { FairTeams } from './fair-teams-screens.mjs';
import { ChooseGame, Console, KeyForm, Present, TakenOver } from './host-screens.mjs';
import { Landing } from './landing-screens.mjs';
import { Connecting } from './parts.mjs';
import { Asking, Overview, Resting } from './practice-screens.mjs';
import { PlanQuestions } from './plan-questions.mjs';
import { samples } from './samples.mjs';
import { learnNames } from './species.mjs';
import { BoardClosed, SeasonBoard, SeasonPage } from './season-screens.mjs';
import { NameForm, Removed, Replaced, TeamScreen } from './team-screens.mjs';
import { TrendsPage } from './trends-screens.mjs';
import { common, gallery, hub } from './words.mjs';

const views = {
  Asking, BoardClosed, BoardScreen, ChooseDebrief, ChooseGame, Connecting, Console, Dialog, FairTeams, KeyForm, Landing, NameForm, Overview, PlannedScreen, Present, Removed, Replaced, Report, Resting, SeasonBoard, SeasonPage, TakenOver, TeamScreen, TrendsPage,
};

// Nothing is sent from here: every control answers as a hub would that agrees.
const handlers = Object.fromEntries(
  ['onAnswer', 'onStation', 'onBuzz', 'onName', 'onKey', 'onNew', 'onCode', 'onDo', 'onPhotos', 'onHub', 'onResults', 'onReload', 'onSave', 'onPlan', 'onPrint', 'onQuestions', 'onEdit', 'onSaveSet', 'onLoadSet', 'onDismiss', 'onClose', 'onAgain', 'onTake',
    'onChoose', 'onUntil', 'onShow', 'onCount', 'onEraseTeam', 'onEraseSeason', 'onMake', 'onSeason', 'onGames']
    .map((name) => [name, async () => ({ type: 'done' })]),
);

// PlannedScreen stands in the console's frame, and its hub answers with a canned list.
function PlannedScreen({ list, ...props }) {
  return html`<header class="strip"><h1>${hub.title(props.plan.title)}</h1></header><main class="console"><div><${PlanQuestions} ...${props} ready=${async () => true} onQuestions=${async () => list} /></div></main>`;
}

function Screen({ sample }) {
  const View = views[sample.view];
  return html`<${View} ...${handlers} ...${sample.props} />`;
}

function List() {
  return html`
    <main class="sheet">
      <h1>${common.name}: ${gallery.title}</h1>
      <p>${gallery.lead}</p>
      <ul class="screens">
        ${Object.keys(samples).map((name) => html`<li key=${name}><a href=${`/gallery?screen=${name}`} data-screen=${name}>${name}</a></li>`)}
      </ul>
    </main>`;
}

const sample = samples[new URLSearchParams(location.search).get('screen')];
if (sample) document.documentElement.className = sample.page;
learnNames().then(() => render(sample ? html`<${Screen} sample=${sample} />` : html`<${List} />`, document.getElementById('page')));
