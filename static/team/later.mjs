// What a team's phone shows once there is something to look back on, or to walk
// to. It comes after the first load.

import { html } from '../vendor/preact-htm.mjs';
import { Lesson, Tally, tagOf, teaches } from '../parts/lesson.mjs';
import { Because, Heading, Leaders, Plate, Sign, Told } from '../parts/parts.mjs';
import { named } from '../lib/species.mjs';
import { missed, practiceOf, useMissed } from './missed.mjs';
import { Where } from './screens.mjs';
import { Marked, Visit, Walk } from './station.mjs';
import { common } from '../words/common.mjs';
import { team } from '../words/team.mjs';

function verdictLine(reveal, you) {
  if (reveal.skipped) return common.skipped;
  if (reveal.undone) return common.undone;
  const sign = ['right', 'wrong'].includes(you.verdict) && html`<${Sign} kind=${you.verdict} />`;
  return html`${sign} ${team.verdicts[you.verdict || 'none']}`;
}

function Revealed({ state, you }) {
  useMissed(state, you);
  const { reveal, question } = state;
  const lesson = teaches(reveal.lesson) ? reveal.lesson : null;
  return html`
    <${Where} state=${state} />
    <${Heading}>${verdictLine(reveal, you)}<//>
    ${you.answer && html`<p>${team.typed(named(you.answer))}</p>`}
    ${you.gained !== 0 && html`<p class="gained">${team.gained(you.gained)}</p>`}
    <p class="prompt"><${Told} text=${question.prompt} /></p>
    ${(!lesson || question.credit) && html`<${Plate} question=${question} />`}
    ${lesson && html`<${Lesson} lesson=${lesson} tag=${tagOf(question, reveal)} />`}
    <${Tally} question=${question} reveal=${reveal} own=${you.option ?? undefined} />
    <${Because} reason=${reveal.reason} />
    <p>${team.standing(you.rank, you.score)}</p>`;
}

function Ranking({ state, you }) {
  return html`
    <${Heading}>${state.phase === 'ended' ? team.over : team.afterRound}<//>
    <p class="title">${team.standing(you.rank, you.score)}</p>
    ${state.phase === 'ended' && html`<p><a class="again" href=${practiceOf(missed(state.code))}>${missed(state.code).length > 0 ? team.goOver(missed(state.code).length) : team.practise}</a></p>`}
    <${Leaders} leaders=${state.leaders} caption=${team.firstFive} own=${you.name} />
    <p class="hint">${common.tieRule}</p>`;
}

export const screens = { revealed: Revealed, walk: Walk, station: Visit, marked: Marked, break: Ranking, ended: Ranking };
