// What the host's console shows.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { controls, end, everyShortcut, turnKeys } from './controls.mjs';
import { Countdown } from '../parts/clock.mjs';
import { Dialog } from '../parts/dialog.mjs';
import { Announcer, Banners, CodeForm, Heading, Languages, Leaders, Message, Options, Plate, Stopped, Told, tied } from '../parts/parts.mjs';
import { HostFromPhone, Join, ToBoard } from './join.mjs';
import { ExtraTime, Keeping, namePath } from './keeping.mjs';
import { StartBar, usePlan } from '../plan/form.mjs';
import { Planning } from '../plan/planning.mjs';
import { useLater } from '../lib/later.mjs';
import { lasting } from '../lib/storage.mjs';
import { named } from '../lib/species.mjs';
import { club } from '../words/club.mjs';
import { common, hub } from '../words/common.mjs';
import { again, host, keeping } from '../words/host.mjs';
import { ready, station } from '../words/station.mjs';

const ways = [['/tournament', club.tournaments], ['/season-plan', club.seasonPlan], ['/season', club.season], ['/fair-teams', club.fairTeams], ['/trends', club.trends], ['/practice', club.practice]];

// Ways lead from the console to the other pages, in tabs of their own, which take the key along.
function Ways() {
  return html`
    <nav class="elsewhere" aria-labelledby="elsewhere">
      <b id="elsewhere">${club.more}</b>
      ${ways.map(([address, text]) => html`<a key=${address} href=${address} target="_blank" rel="opener">${text}</a>`)}
    </nav>`;
}

export function ChooseGame({ onNew, onCode, message = '' }) {
  return html`
    <main class="sheet">
      <${Heading}>${host.title}<//>
      <section>
        <h2>${host.newGame}</h2>
        <p>${host.newGameHint}</p>
        <${Message} text=${message} />
        <button type="button" class="main" onClick=${onNew}>${host.newGame}</button>
      </section>
      <section>
        <h2>${host.oldGame}</h2>
        <${CodeForm} label=${host.openConsole} cup="/tournament" go=${onCode} />
      </section>
      <section>
        <h2>${club.more}</h2>
        <ul class="ways">${ways.map(([address, text]) => html`<li key=${address}><a href=${address}>${text}</a></li>`)}</ul>
      </section>
      <${Languages} />
    </main>`;
}

export function Present({ onTake }) {
  return html`<${Stopped} title=${host.present} text=${host.presentMore} action=${host.takeOver} onAction=${onTake} />`;
}

export function TakenOver({ onTake }) {
  return html`<${Stopped} title=${host.replaced} text=${host.replacedMore} action=${host.takeBack} onAction=${onTake} />`;
}

// Console: onDo(action, fields) resolves to the hub's reply, onHub(method,
// address, body) to its answer as lib/hub.mjs has it; message is its last
// refusal. What is pressed most stands in the bar beneath, always in sight.
export function Console({ state, link, message, onDo, onHub, onBackUp, onKey, onResults, onCount, onFollow, onHostCode, onDismiss, ...planning }) {
  const [dialog, setDialog] = useState(null);
  const [keysOn, setKeysOn] = useState(true);
  const keys = useKeys();
  const run = (c) => {
    if (c === turnKeys) return keys.turn();
    const go = () => onDo(c.action, c.fields);
    if (c.ask) setDialog({ ...c.ask, go, action: c.action });
    else go();
  };
  // start asks first where a side of a match is missing and another is there.
  function start() {
    const missing = (state.host.seats ?? []).filter((s) => !s.taken).map((s) => s.name);
    if (missing.length === 0 || state.teams === 0) return planning.onEdit('start');
    setDialog({ ...host.confirm.start(missing), go: () => onDo('start') });
    return { type: 'done' };
  }
  const later = useLater(true, () => import('./later.mjs'));
  const list = controls(state);
  useShortcuts(keysOn && !dialog, list.length > 0 ? [turnKeys, ...list.filter((c) => !c.off)] : [], run);
  const late = Boolean(dialog) && list.some((c) => c.off && c.action === dialog.action);
  useEffect(() => { if (late) setDialog(null); }, [late]); // what it asks about is over
  const inLobby = state.phase === 'lobby';
  const { plan: stored, rosters = [stored.roster], languages } = state.host;
  const plan = usePlan({ plan: stored, languages, teams: state.teams, onSave: (wish) => onDo('plan', { plan: wish }), onStart: start });
  const address = state.host.joinURL || location.origin;

  return html`
    <${Top} ...${{ state, address, onHostCode }} onEnd=${() => run(end)} />
    <${Banners} link=${link} state=${state} />
    <${Announcer} state=${state} />
    ${message && html`<p class="message" role="alert">
      ${host.refused} ${message} <button type="button" onClick=${onDismiss}>${host.dismiss}</button></p>`}
    <main class="console">
      <div>
        ${inLobby
          ? html`<${Planning} match=${state.host.seats?.length > 0} stored=${stored} ...${{ plan, rosters, languages, onHub }} onAsk=${setDialog} ...${planning} />`
          : html`<${Running} ...${{ later, state, keys, onDo, onResults, onCount }} />`}
        <section class="also">
          ${later && html`<${later.Photos} onHub=${onHub} onAsk=${setDialog} />`}
          <${Keeping} onHub=${onHub} onBackUp=${onBackUp} onAsk=${setDialog} onKey=${onKey} />
          <${Shortcuts} on=${keysOn} onChange=${setKeysOn} />
          <${Ways} />
          <${Languages} />
        </section>
      </div>
      <aside>
        ${inLobby && html`<${Join} ...${{ state, address, onHub }} />`}
        <${Teams} state=${state} onDo=${onDo} onAsk=${setDialog} onForget=${(team) => onHub('DELETE', namePath(state.code, team))} />
      </aside>
    </main>
    ${inLobby ? html`<${StartBar} plan=${plan} ready=${state.teams > 0} />` : state.phase === 'ended' ? html`<${EndBar} state=${state} onFollow=${onFollow} />` : html`<${Controls} list=${list} onRun=${run} />`}
    ${dialog && html`<${Dialog} ...${dialog} onClose=${() => setDialog(null)} />`}`;
}

const keysKept = 'fieldsign.host.keys';

// useKeys: whether this console shows the keys before the reveal. It doesn't until
// asked, for a projector may show the same, and remembers what it was asked.
function useKeys() {
  const [shown, setShown] = useState(lasting.get(keysKept) === 'shown');
  function turn() {
    lasting.set(keysKept, shown ? 'hidden' : 'shown');
    setShown(!shown);
  }
  return { shown, turn, key: turnKeys.key };
}

// useShortcuts leaves keys alone while someone types or holds a modifier.
function useShortcuts(on, allowed, run) {
  useEffect(() => {
    if (!on) return undefined;
    const press = (event) => {
      if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
      if (event.target.closest('input, select, textarea')) return;
      const c = allowed.find(({ key }) => key === event.key.toLowerCase());
      if (!c) return;
      event.preventDefault();
      run(c);
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  });
}

// Top has at its right what ends the game: at one place in all states, and far from
// what is pressed most.
function Top({ state, address, onHostCode, onEnd }) {
  return html`
    <header class="strip">
      <h1>${hub.title(state.title) || host.title}</h1>
      <span>${host.phases[state.phase] ?? station.phases[state.phase]}</span>
      <span class="join-at">${host.joinAt} <b>${new URL(address).host}</b>, <b class="code">${state.code}</b></span>
      <${ToBoard} state=${state} />
      <${HostFromPhone} ...${{ state, address, onHostCode }} />
      ${state.phase !== 'lobby' && state.phase !== 'ended' && html`<button type="button" class="plain" onClick=${onEnd}>${end.label}</button>`}
    </header>`;
}

function Running({ later, state, keys, onDo, onResults, onCount }) {
  return html`
    ${state.rotation ? later && html`<${later.StationDesk} ...${{ state, keys, onDo }} />` : state.question ? html`<${Question} state=${state} keys=${keys} />` : state.phase === 'ready' ? html`<${Ready} round=${state.round} />`
      : html`<${Leaders} leaders=${state.leaders} caption=${host.phases[state.phase]} />${tied(state.leaders) && html`<p class="hint">${common.tieRule}</p>`}`}
    ${state.phase === 'break' && html`<p>${host.breakMore}</p>`}
    ${(state.phase === 'break' || state.phase === 'ended') && html`<${Results} code=${state.code} onResults=${onResults} />`}
    ${state.phase === 'ended' && later && html`<${later.CountInSeason} planned=${state.host.plan.season} onCount=${onCount} />`}
    ${state.host.next && keys.shown && state.phase !== 'ended' && html`<p class="next"><b>${host.nextUp}:</b> <${Told} text=${state.host.next} /></p>`}`;
}

function Ready({ round }) {
  return html`
    <section>
      <h2>${common.round(round)}</h2>
      <p>${common.kinds[round.kind]}. ${ready.rule(round)} ${ready.points(round)}.</p>
      <p>${host.readyMore(round.n)}</p>
    </section>`;
}

// Results leads to the debrief in a tab of its own, which takes the key along.
function Results({ code, onResults }) {
  return html`
    <p class="results">
      <a href=${`/debrief?game=${encodeURIComponent(code)}`} target="_blank" rel="opener">${host.debrief}</a>
      <button type="button" onClick=${onResults}>${host.results}</button>
    </p>`;
}

function Question({ state, keys }) {
  const { question, round, buzz, reveal } = state;
  const { key } = state.host;
  const told = Boolean(reveal) || keys.shown;
  const mark = (i) => {
    const said = [told && i === key && `${common.right} ${common.key}`, reveal && common.picks(reveal.picks[i] ?? 0)].filter(Boolean);
    return said.length ? { text: said.join(', '), kind: told && i === key ? 'key' : '' } : null;
  };
  return html`
    <section>
      <p class="where">${common.round(round)}. ${common.question(question, round)}.${!buzz && ` ${host.answered(state.answered, state.teams)}`}${!buzz && !reveal && ` ${host.keyComes}`}</p>
      <${Countdown} state=${state} />
      ${buzz?.team && html`<p class="note">${host.ruleFor(buzz.name, question.typed)}</p>`}
      <h2><${Told} text=${question.prompt} /></h2>
      <${Key} ...${{ state, keys, told }} />
      ${reveal?.skipped && html`<p class="note">${common.skipped}</p>`}
      ${reveal?.undone && html`<p class="note">${common.undone}</p>`}
      <div class=${question.plate ? 'drawn' : ''}>
        <${Plate} question=${question} />
        ${(told || !question.typed) && html`<${Options} question=${question} mark=${mark} />`}
      </div>
    </section>`;
}

// Key is the key with its reason, or what shows it.
function Key({ state: { question, reveal, host: { key, reason } }, keys, told }) {
  return html`
    <div class="key-line">
      ${told ? html`<p class="reason"><b>${host.keyIs(common.letters[key], named(question.options[key]))}.</b> <${Told} text=${reason} /></p>`
        : html`<p class="hint">${host.keyHidden}</p>`}
      ${!reveal && html`<button type="button" class="show-key" aria-expanded=${told ? 'true' : 'false'} onClick=${keys.turn}>${told ? host.hideKey : host.showKey} <kbd>${keys.key.toUpperCase()}</kbd></button>`}
    </div>`;
}

function Controls({ list, onRun }) {
  return html`
    <section class="bar controls" aria-label=${host.controls}>
      ${list.map((c, place) => html`
        <button type="button" key=${place} class=${c.main ? 'main' : c.against ? 'against' : ''} aria-keyshortcuts=${c.key} aria-disabled=${c.off ? 'true' : 'false'} onClick=${() => !c.off && onRun(c)}>
          ${c.label}${c.key && html` <kbd>${c.key.toUpperCase()}</kbd>`}
        </button>`)}
    </section>`;
}

// EndBar goes on with the same teams: onFollow(steered) makes the next game.
function EndBar({ state, onFollow }) {
  const [busy, setBusy] = useState(false);
  if (state.host.seats?.length > 0) return null; // a match: its tournament says what comes next
  async function go(steered) {
    setBusy(true);
    await onFollow(steered);
    setBusy(false);
  }
  return html`
    <section class="bar" aria-label=${host.controls}>
      <p class="hint">${again.hint}</p>
      <div class="pair">
        ${!state.next && html`<button type="button" disabled=${busy} onClick=${() => go(true)}>${again.steered}</button>`}
        <button type="button" class="main" disabled=${busy} onClick=${() => go(false)}>${state.next ? again.there : again.same}</button>
      </div>
    </section>`;
}

function Shortcuts({ on, onChange }) {
  return html`
    <details class="shortcuts">
      <summary>${host.shortcuts}</summary>
      <dl>${everyShortcut.map((c) => html`<div key=${c.label}><dt><kbd>${c.key.toUpperCase()}</kbd></dt><dd>${c.label}</dd></div>`)}</dl>
      <label class="check"><input type="checkbox" checked=${on} onChange=${(e) => onChange(e.target.checked)} /><span>${host.shortcutsOn}</span></label>
    </details>`;
}

function Teams({ state, onDo, onAsk, onForget }) {
  const { teams, seats = [] } = state.host;
  const now = state.phase === 'asking' || state.phase === 'buzzed' || state.phase === 'station' || state.phase === 'walk';
  const holder = state.buzz?.team;
  const shown = holder ? [...teams.filter((t) => t.team === holder), ...teams.filter((t) => t.team !== holder)] : teams;
  return html`
    <section class="teams">
      <h2>${common.teams(teams.length)}</h2>
      ${teams.length === 0 && html`<p>${host.noTeams}</p>`}
      <ul>${shown.map((t) => html`<${TeamRow} key=${t.team} team=${t} holds=${t.team === holder} now=${now} state=${state} onDo=${onDo} onAsk=${onAsk} onForget=${onForget} />`)}
        ${state.phase !== 'ended' && seats.filter((s) => !s.taken).map((s) => html`<li key=${s.name} class="free"><b class="who">${s.name}</b> <span class="doing">${host.seatFree}</span></li>`)}</ul>
      ${teams.length > 0 && html`<p class="hint">${host.behindName}</p>`}
      ${seats.some((s) => s.taken) && state.phase !== 'ended' && html`<p class="hint">${host.seatHint}</p>`}
    </section>`;
}

function doingOf(team, { phase, rotation, host: { stations } }) {
  if (rotation) return phase === 'walk' ? station.walking(team.station) : station.doing(team.station, team.filled ?? 0, stations[team.station - 1].questions.length);
  return team.locked ? host.lockedOne : team.answered ? `${common.right} ${host.answeredOne}` : host.waiting;
}

function TeamRow({ team, holds, now, state, onDo, onAsk, onForget }) {
  const doing = doingOf(team, state);
  const rename = { title: host.rename(team.name), yes: host.save, value: team.name, go: (name) => onDo('rename', { team: team.team, name }) };
  const forget = { ...keeping.confirmName(team.name), go: () => onForget(team.team) };
  const seat = state.host.seats?.length > 0 && state.phase !== 'ended';
  const out = seat ? { label: host.freeSeat(team.name), short: host.freeSeatShort, ...host.confirm.freeSeat(team.name) }
    : { label: host.remove(team.name), short: host.removeShort, ...host.confirm.remove(team.name) };
  const remove = { ...out, go: () => onDo('remove', { team: team.team }) };
  return html`
    <li class=${holds ? 'holds' : ''}>
      <details>
        <summary>
          <b class="who">${team.name}</b>
          <span class="score">${state.phase !== 'lobby' && common.points(team.score)}</span>
          <span class="doing">
            ${holds && html`<b>${host.holds}</b>, `}${team.online ? host.online : html`<b>${common.wrong} ${host.offline}</b>`}${now && !holds && `, ${doing}`}${team.extra > 0 && `, ${keeping.extra(team.extra)}`}
          </span>
        </summary>
        <div class="change">
          ${state.phase === 'ended' ? html`<button type="button" aria-label=${keeping.eraseNameOf(team.name)} onClick=${() => onAsk(forget)}>${keeping.eraseName}</button>`
            : html`<${ExtraTime} team=${team} onDo=${onDo} />`}
          ${!seat && html`<button type="button" aria-label=${host.rename(team.name)} onClick=${() => onAsk(rename)}>${host.renameShort}</button>`}
          <button type="button" aria-label=${out.label} onClick=${() => onAsk(remove)}>${out.short}</button>
        </div>
      </details>
    </li>`;
}
