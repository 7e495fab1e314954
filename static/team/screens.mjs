// What a team's phone shows. Each screen draws the state it is handed; what
// the team may do next follows from the state, never from a guess of its own.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Countdown, useUp, withExtra } from '../parts/clock.mjs';
import { Enlarged, Larger } from '../parts/enlarge.mjs';
import { arrived, useLater } from '../lib/later.mjs';
import { language } from '../lib/language.mjs';
import { suggestName } from '../lib/names.mjs';
import { Announcer, Banners, Connecting, Field, Heading, Languages, Message, Options, Sign, Spot, Stopped, Told } from '../parts/parts.mjs';
import { learnNames, named } from '../lib/species.mjs';
import { common } from '../words/common.mjs';
import { team } from '../words/team.mjs';

const longestName = 24; // characters

export function NameForm({ onName, message: first = '', suggestion = suggestName() }) {
  const [name, setName] = useState(suggestion);
  const [message, setMessage] = useState(first);
  const input = useRef(null);

  function submit(event) {
    event.preventDefault();
    const chosen = name.trim();
    if (chosen) return onName(chosen);
    setMessage(team.emptyName);
    input.current.focus();
  }

  return html`
    <main class="sheet">
      <${Heading}>${team.chooseName}<//>
      <form onSubmit=${submit} novalidate>
        <${Field} id="name" label=${team.nameLabel} hint=${team.nameHint}>
          <input id="name" ref=${input} value=${name} onInput=${(e) => setName(e.target.value)} onFocus=${(e) => e.target.select()} maxlength=${longestName}
            autocomplete="off" spellcheck="false" aria-describedby="name-hint" />
        <//>
        <${Message} text=${message} />
        <div class="pair">
          <button type="button" onClick=${() => setName(suggestName())}>${team.another}</button>
          <button type="submit" class="main">${team.join}</button>
        </div>
      </form>
      <${Languages} />
    </main>`;
}

export function Removed({ onAgain }) {
  return html`<${Stopped} title=${team.removedTitle} text=${team.removed} action=${team.joinAgain} onAction=${onAgain} />`;
}

export function Replaced({ onAgain }) {
  return html`<${Stopped} title=${team.replacedTitle} text=${team.replaced} action=${team.useThis} onAction=${onAgain} />`;
}

// mine is what the team sees as its own: of what it was told about another
// question nothing holds, and who has the buzz is told by the state.
function mine(state, told) {
  const untouched = { option: null, answer: '', locked: false, verdict: '', gained: 0 };
  const current = told.about === (state.question?.id ?? '');
  return { ...told, ...(current ? {} : untouched), holds: state.buzz?.team === told.team };
}

// TeamScreen: pending is {kind: 'answer'|'buzz', option} while the hub has not
// yet confirmed; message is the hub's last refusal.
export function TeamScreen({ state, you, link, pending, message, onAnswer, onType, onBuzz, onStation }) {
  const Screen = screens[state.phase] ?? later[state.phase];
  const own = mine(state, you);
  const asked = state.phase === 'asking' || state.phase === 'buzzed';
  useShaken(own.holds);
  if (!Screen) return html`<${Connecting} />`;
  return html`
    <header class="strip">
      <b>${you.name}</b>
      ${asked && html`<${Countdown} state=${withExtra(state, you.extra)} />`}
      <span>${common.points(you.score)}</span>
    </header>
    <${Banners} link=${link} state=${state} />
    <${Announcer} state=${state} />
    <main class=${asked ? `sheet asked ${shape(state.question)}` : 'sheet'} key=${`${state.phase} ${state.question?.id}`}>
      <${Screen} ...${{ state, you: own, pending, message, onAnswer, onType, onBuzz, onStation }} />
    </main>`;
}

// shape is what a question has beside its words.
const shape = (question) => (question.plates?.length > 0 ? 'four' : question.plate ? 'beside' : 'words');

const shake = 40; // ms

// useShaken is felt as the buzz becomes this team's, where a phone can. A
// browser refuses it, with an error, on a page that nobody has touched yet.
function useShaken(holds) {
  useEffect(() => {
    if (holds && navigator.userActivation?.hasBeenActive) navigator.vibrate?.(shake);
  }, [holds]);
}

function Lobby({ state, you }) {
  return html`
    <${Heading}>${team.joined(you.name)}<//>
    <p>${team.wait}</p>
    <p>${team.here(state.teams)}</p>
    <${AskedIn} state=${state} />
    <p class="spots"><${Spot} name="raccoon-print" /><${Spot} name="bobcat-print" /></p>`;
}

// AskedIn tells a reader of another language in which one the questions will be.
export function AskedIn({ state: { language: asked = 'en' } }) {
  return asked !== language && html`<p class="note">${team.asksIn(asked)}</p>`;
}

export function Where({ state }) {
  return html`<p class="where">${common.round(state.round)}. ${common.question(state.question, state.round)}</p>`;
}

function Question(props) {
  const { state, you } = props;
  const Flow = state.round.kind === 'buzz' ? BuzzFlow : OpenFlow;
  const own = withExtra(state, you.extra);
  const up = useUp(own);
  return html`
    <${Where} state=${state} />
    <${Heading}><${Told} text=${state.question.prompt} /><//>
    ${state.question.plate && html`<${Enlarged} plate=${state.question} />`}
    <${Flow} ...${props} up=${up} />`;
}

// TypedAnswer takes the animal's name, or shows what was sent.
function TypedAnswer({ state, you, pending, up, onType }) {
  const input = useRef(null);
  if (you.option !== null) return html`<p class="title">${team.typed(named(you.answer))}</p>`;
  const idle = Boolean(pending) || state.paused || up;

  function submit(event) {
    event.preventDefault();
    const text = input.current.value.trim();
    if (text && !idle) onType(text);
  }

  return html`
    <form onSubmit=${submit} novalidate>
      <${Field} id="typed" label=${team.typeLabel} hint=${team.typeHint}>
        <input id="typed" ref=${input} readonly=${up} maxlength="60" autocomplete="off" autocapitalize="none" spellcheck="false" aria-describedby="typed-hint" />
      <//>
      <button type="submit" class="main" aria-disabled=${idle ? 'true' : 'false'}>${team.send}</button>
    </form>`;
}

// Rows are the options as a team sees them before the reveal.
function Rows({ state, you, pending, up, onPick, onType }) {
  if (state.question.typed) return html`<${TypedAnswer} ...${{ state, you, pending, up, onType }} />`;
  const chosen = you.option ?? (pending?.kind === 'answer' ? pending.option : null);
  const label = you.option === null ? team.sending : team.yours;
  const mark = (i) => (i === chosen ? { text: label, kind: 'own' } : null);
  const free = chosen === null && !state.paused && !up;
  return html`<${Options} question=${state.question} mark=${mark} choose onPick=${free ? onPick : undefined} larger=${Larger} />`;
}

function Say({ title, text, message, loud }) {
  return html`
    <div class=${loud ? 'say loud' : 'say'} role="status">
      <p class="title">${title}</p>
      ${text && html`<p>${text}</p>`}
    </div>
    <${Message} text=${message} />`;
}

function OpenFlow({ state, you, pending, up, message, onAnswer, onType }) {
  return html`
    <${Say} ...${openSay(state, you, pending, up)} message=${message} />
    <${Rows} ...${{ state, you, pending, up, onPick: onAnswer, onType }} />`;
}

// timeUp is all that a team is told between the end of its time and the reveal:
// a count of answers that still grows would tell that others have more time.
const timeUp = { title: common.timeUp, text: team.awaitReveal };

function openSay(state, you, pending, up) {
  if (up && !pending) return timeUp;
  if (you.option !== null) return { title: team.sent, text: team.sentMore(state.answered, state.teams) };
  if (pending) return { title: team.sending };
  if (state.paused) return { title: team.paused };
  return { title: state.question.typed ? team.typePrompt : team.pick };
}

function BuzzFlow({ state, you, pending, up, message, onAnswer, onType, onBuzz }) {
  if (you.holds) {
    const title = pending?.kind === 'answer' ? team.sending : up ? common.timeUp : state.question.typed ? team.youHoldTyped : team.youHold;
    return html`
      <${Say} title=${title} message=${message} loud />
      <${Rows} ...${{ state, you, pending, up, onPick: onAnswer, onType }} />`;
  }
  const say = buzzSay(state, you, pending, up);
  const mark = (i) => (you.locked && i === you.option ? { text: team.yours, kind: 'miss', sign: 'wrong' } : null);
  return html`
    <${Options} question=${state.question} mark=${mark} larger=${Larger} />
    <${Say} ...${say} message=${message} />
    ${state.buzz.drawn && html`<p class="note">${common.drawn(state.buzz.drawn)}</p>`}
    ${say.free && html`<${BuzzBar} onBuzz=${onBuzz} idle=${pending || state.paused || up} />`}`;
}

function buzzSay(state, you, pending, up) {
  if (you.locked) return { title: you.verdict === 'late' ? team.verdicts.late : html`<${Sign} kind="wrong" /> ${team.verdicts.wrong}`, text: team.lockedMore(state.phase === 'buzzed' && state.buzz.name) };
  if (state.phase === 'buzzed') return { title: team.holds(state.buzz.name), text: team.holdsMore };
  if (up && !pending) return { ...timeUp, free: true };
  return { title: pending ? team.buzzing : team.buzzHint, free: true };
}

// BuzzBar takes the press as the finger lands, not as it lifts; a click
// without a pointer is the keyboard's or a screen reader's.
function BuzzBar({ onBuzz, idle }) {
  const press = (event) => {
    if (!idle) onBuzz(event.timeStamp);
  };
  return html`
    <div class="reach">
      <button type="button" class="buzz" aria-disabled=${idle ? 'true' : 'false'}
        onPointerDown=${press} onClick=${(event) => event.detail === 0 && press(event)}>${team.buzz}</button>
    </div>`;
}

// The screens that no game begins with come once the phone is in it.
const later = {};

// loadLater resolves once they are there.
export async function loadLater() {
  Object.assign(later, (await import('./later.mjs')).screens);
}

// useSettled tells whether all is here that no phone needs before it is in a game.
export const useSettled = (wanted) => useLater(wanted, () => Promise.all([learnNames(), arrived(loadLater)])) !== null;

const screens = { lobby: Lobby, asking: Question, buzzed: Question };
