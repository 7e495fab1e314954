// The gallery: a list of every screen; ?screen=NAME shows one alone, in its page's frame.

import { html, render, useEffect, useRef } from '../vendor/preact-htm.mjs';
import { BoardScreen } from '../board/screens.mjs';
import { TournamentBoard } from '../tournament/board-screens.mjs';
import { ChooseDebrief, Report } from '../debrief/screens.mjs';
import { Dialog } from '../parts/dialog.mjs';
import { SeasonPlan } from '../seasonplan/screens.mjs';
import { FairTeams } from '../season/fair-teams-screens.mjs';
import { ChooseGame, Console, Present, TakenOver } from '../host/screens.mjs';
import { KeyForm } from '../parts/key-form.mjs';
import { Keeping } from '../host/keeping.mjs';
import { Landing } from '../landing/screens.mjs';
import { Connecting } from '../parts/parts.mjs';
import { Asking, Overview, Resting, Summary } from '../practice/screens.mjs';
import { PlanQuestions } from '../plan/questions.mjs';
import { PlanSets } from '../plan/sets.mjs';
import { samples } from './samples.mjs';
import { BoardClosed, SeasonBoard, SeasonPage } from '../season/screens.mjs';
import { Freed, SideForm } from '../team/seats.mjs';
import { learnNames } from '../lib/species.mjs';
import { NameForm, Removed, Replaced, TeamScreen, loadLater } from '../team/screens.mjs';
import { Interval, NoBoard } from '../tournament/follow-screens.mjs';
import { ChooseTeam, TeamWaits } from '../tournament/team-screens.mjs';
import { NoTournament } from '../tournament/none.mjs';
import { ResultDialog } from '../tournament/matches.mjs';
import { ChooseTournament, TournamentConsole } from '../tournament/screens.mjs';
import { TrendsPage } from '../season/trends-screens.mjs';
import { common } from '../words/common.mjs';
import { gallery } from '../words/gallery.mjs';
import { host } from '../words/host.mjs';

const views = {
  Asking, BoardClosed, ChooseTeam, Interval, NoBoard, TeamWaits, BoardScreen, ChooseTournament, ChooseDebrief, ChooseGame, Connecting, Console, TournamentConsole, TournamentBoard, Dialog, FairTeams, Freed, KeptScreen, KeyForm, Landing, NameForm, NoTournament, Overview,
  PlannedScreen, Present, Removed, Replaced, Report, Resting, ResultDialog, SeasonBoard, SeasonPage, SeasonPlan, SetsScreen, SideForm, Summary, TakenOver, TeamScreen, TrendsPage,
};

// Nothing is sent from here: every control answers as a hub would that agrees.
const handlers = Object.fromEntries(
  ['onAnswer', 'onStation', 'onBuzz', 'onName', 'onKey', 'onNew', 'onCode', 'onDo', 'onHub', 'onBackUp', 'onResults', 'onReload', 'onSave', 'onPlan', 'onPrint', 'onQuestions', 'onEdit', 'onSaveSet', 'onLoadSet', 'onDismiss', 'onClose', 'onAgain', 'onTake',
    'onChoose', 'onFollow', 'onPaper', 'onStudy', 'onHostCode', 'onUntil', 'onShow', 'onCount', 'onEraseTeam', 'onEraseSeason', 'onMake', 'onSeason', 'onGames', 'onAsk', 'onOpen', 'onPace', 'onLook', 'onMore', 'onPick', 'onNext', 'onStop', 'onSit', 'onChange']
    .map((name) => [name, async () => ({ type: 'done' })]),
);

// Frame is the console's; what is folded in it is opened.
function Frame({ children }) {
  const box = useRef(null);
  useEffect(() => box.current.querySelectorAll('details').forEach((d) => { d.open = true; }), []);
  return html`
    <header class="strip"><h1>${host.title}</h1></header>
    <main class="console"><div ref=${box}>${children}</div></main>`;
}

// What stands in the console's frame has a hub that answers with canned lists.

function PlannedScreen({ list, ...props }) {
  return html`<${Frame}><${PlanQuestions} ...${props} ready=${async () => true} onQuestions=${async () => (list.message ? list : { data: list })} /><//>`;
}

function SetsScreen(props) {
  return html`<${Frame}><${PlanSets} ...${props} ready=${async () => true} /><//>`;
}

function KeptScreen({ games, ...props }) {
  return html`<${Frame}><${Keeping} ...${props} onHub=${async () => ({ data: games })} /><//>`;
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
        ${Object.keys(samples).map((name) => html`<li key=${name}><a href=${`/gallery?screen=${encodeURIComponent(name)}`} data-screen=${name}>${name}</a></li>`)}
      </ul>
    </main>`;
}

// show draws what the address names, anew. Tests walk from screen to screen
// within one document: loading it takes longer than to look at most screens.
function show() {
  const name = new URLSearchParams(location.search).get('screen');
  const sample = samples[name];
  document.documentElement.className = sample?.page ?? 'gallery';
  render(sample ? html`<${Screen} key=${name} sample=${sample} />` : html`<${List} key="" />`, document.getElementById('page'));
  document.body.dataset.shown = name ?? '';
}

await Promise.all([learnNames(), loadLater()]);
addEventListener('popstate', show);
show();
