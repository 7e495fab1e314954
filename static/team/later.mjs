// What a team's phone shows once there is something to look back on, or to walk
// to. It comes after the first load.

import { html } from '../vendor/preact-htm.mjs';
import { Because, Lesson, Tally, tagOf, teaches } from '../parts/lesson.mjs';
import { Heading, Leaders, Plate, Sign, Told, tied } from '../parts/parts.mjs';
import { named } from '../lib/species.mjs';
import { missed, practiceOf } from '../lib/missed.mjs';
import { useMissed } from './missed.mjs';
import { AskedIn, Where } from './screens.mjs';
import { Marked, Visit, Walk } from './station.mjs';
import { common, hub } from '../words/common.mjs';
import { ready } from '../words/station.mjs';
import { team } from '../words/team.mjs';

function verdictLine(reveal, you) {
  if (reveal.skipped) return common.skipped;
  if (reveal.undone) return common.undone;
  const sign = ['right', 'wrong'].includes(you.verdict) && html`<${Sign} kind=${you.verdict} />`;
  return html`${sign} ${team.verdicts[you.verdict || 'none']}`;
}

// ownOf is what the team answered, in words.
function ownOf({ typed, options }, { names }, { answer, option }) {
  if (typed || option === null) return answer && named(answer);
  return `${common.letters[option]} ${named(names?.[option] ?? options[option])}`;
}

// Ready names a round and says its rule before its clock runs.
function Ready({ state }) {
  return html`
    <${Heading}>${ready.title(state.round.n)}<//>
    ${state.sides && html`<p class="title">${state.sides.join(' – ')}</p>`}
    <p class="title">${hub.title(state.round.name)}</p>
    <p>${common.kinds[state.round.kind]}. ${ready.rule(state.round)}</p>
    <p>${ready.points(state.round)}.</p>
    <p>${team.readyMore}</p>
    <${AskedIn} state=${state} />`;
}

function Revealed({ state, you }) {
  useMissed(state, you);
  const { reveal, question } = state;
  const lesson = teaches(reveal.lesson) ? reveal.lesson : null;
  const own = ownOf(question, reveal, you);
  const fast = state.round.kind === 'open' ? you.gained - state.round.points : 0;
  return html`
    <${Where} state=${state} />
    <${Heading}>${verdictLine(reveal, you)}<//>
    ${own && html`<p>${team.typed(own)}</p>`}
    <p class="gained">${[you.gained !== 0 && team.gained(you.gained, fast), team.standing(you.rank, you.score)].filter(Boolean).join('. ')}</p>
    <${Because} reason=${reveal.reason} />
    ${(!lesson || question.credit) && html`<${Plate} question=${question} />`}
    ${lesson && html`<${Lesson} lesson=${lesson} tag=${tagOf(question, reveal)} />`}
    <${Tally} question=${question} reveal=${reveal} own=${you.option ?? undefined} />
    <p class="prompt"><${Told} text=${question.prompt} /></p>`;
}

function Ranking({ state, you }) {
  return html`
    <${Heading}>${state.phase === 'ended' ? team.over : team.afterRound}<//>
    <p class="title">${team.standing(you.rank, you.score)}</p>
    <p>${state.phase === 'ended' ? team.overMore : team.breakMore}</p>
    ${state.phase === 'ended' && html`<p><a class="again main" target="_blank" rel="noopener" href=${practiceOf(state.code)}>${missed(state.code).length > 0 ? team.goOver : team.practise}</a></p>`}
    <${Leaders} leaders=${state.leaders} caption=${state.teams > state.leaders.length && team.firstFive} own=${you.name} />
    ${tied(state.leaders) && html`<p class="hint">${common.tieRule}</p>`}`;
}

export const screens = { ready: Ready, revealed: Revealed, walk: Walk, station: Visit, marked: Marked, break: Ranking, ended: Ranking };
