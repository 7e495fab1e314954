// The host's lists of matches, and the box that asks for a result.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { sidesOf } from './board-screens.mjs';
import { boardOf, matchesOf, nameOf } from './way.mjs';
import { Field } from '../parts/parts.mjs';
import { Choice, usualSubjects as subjects } from '../parts/fields.mjs';
import { directing } from '../words/directing.mjs';
import { sheet } from '../words/sheet.mjs';

// planOf is a match's plan from the few figures that the page asks for.
function planOf({ open, buzz, seconds, season }) {
  const round = (kind, name, count) => ({
    name, kind, subjects, count, seconds, points: 100, speed: kind === 'open' ? 50 : 0, penalty: 0, wait: 250, difficulty: 0, typed: false,
  });
  return { title: '', roster: '', seed: 0, season, rounds: [round('open', directing.open, open), round('buzz', directing.buzz, buzz)].filter((r) => r.count > 0) };
}

const inBracket = (tournament, m) => tournament.bracket > 0 && m.id >= tournament.bracket;

// MatchLists: onAsk(question, go) asks the host first.
export function MatchLists({ tournament, plan, onDo, onResult, onAsk }) {
  const all = tournament.columns.flatMap((c) => c.matches.map((m) => ({ ...m, title: sheet.round(c.part, c.round, c.matches.length, tournament.columns.some((o) => o.part === 'losers')) })));
  const running = all.filter((m) => tournament.games[m.id]);
  const late = tournament.boards; // those that no board has come after those called
  const place = (m) => boardOf(tournament, m.id) || late + m.id;
  const ready = all.filter((m) => tournament.ready.includes(m.id)).sort((a, b) => place(a) - place(b));
  const done = all.filter((m) => m.result?.outcome && m.home.entrant > 0 && m.away.entrant > 0).reverse();
  const start = (m) => onDo('start', { match: m.id, plan: planOf(plan) });
  const open = (m) => {
    const missing = phoneless(tournament, m);
    return missing.length > 0 ? onAsk(directing.openAsk(missing), () => start(m)) : start(m);
  };
  return html`
    ${running.length > 0 && html`<section>
      <h2>${directing.runningTitle}</h2>
      <ul class="matches">${running.map((m) => html`<${Running} key=${m.id} ...${{ tournament, m, onDo, onResult }} onStart=${() => start(m)} />`)}</ul>
    </section>`}
    ${tournament.phase === 'play' && html`<section>
      <h2>${directing.readyTitle}</h2>
      ${ready.length === 0 && html`<p>${directing.noneReady}</p>`}
      <ul class="matches">${ready.map((m) => html`
        <li key=${m.id} data-match=${m.id}>
          <span><${Which} tournament=${tournament} m=${m} /> <b>${sidesOf(tournament, m)}</b><${Phoneless} tournament=${tournament} m=${m} /></span>
          <span class="change">
            <button type="button" class="main" aria-label=${`${directing.start}: ${sidesOf(tournament, m)}`} onClick=${() => open(m)}>${directing.start}</button>
            <button type="button" aria-label=${directing.resultTitle(sidesOf(tournament, m))} onClick=${() => onResult(m.id)}>${directing.result}</button>
          </span>
        </li>`)}</ul>
      ${ready.length > 0 && html`<p class="hint">${directing.startHint}</p>`}
    </section>`}
    <section>
      <h2>${directing.results}</h2>
      ${done.length === 0 && html`<p>${directing.noResults}</p>`}
      <ul class="matches">${done.map((m) => html`
        <li key=${m.id} data-match=${m.id}>
          <span><span class="aside">${directing.numbered(m.id, m.title)}</span> ${sidesOf(tournament, m)} <b>${sheet.outcome(m, tournament)}</b></span>
          ${tournament.phase === 'play' && html`<span class="change"><button type="button" aria-label=${`${directing.correct}: ${sidesOf(tournament, m)}`} onClick=${() => onResult(m.id)}>${directing.correct}</button></span>`}
        </li>`)}</ul>
    </section>`;
}

function Which({ tournament, m }) {
  const board = boardOf(tournament, m.id);
  return html`${board > 0 && html`<b class="at">${sheet.atBoard(board)}</b> `}<span class="aside">${directing.numbered(m.id, m.title)}</span>`;
}

// phoneless are the sides that no phone has signed in for, by name, once any has.
function phoneless(tournament, m) {
  if (Object.keys(tournament.seats).length === 0) return [];
  return [m.home.entrant, m.away.entrant].filter((e) => !tournament.seats[e]).map((e) => nameOf(tournament, e));
}

function Phoneless({ tournament, m }) {
  const missing = phoneless(tournament, m);
  return missing.length > 0 && html`<span class="note">${directing.noPhone(missing)}</span>`;
}

// Running is a match with its game. One that has ended without a result waits
// for the host: it is level, a side was missing, or its result was taken back.
function Running({ tournament, m, onDo, onResult, onStart }) {
  const game = tournament.games[m.id];
  const over = game.phase === 'ended';
  const level = over && game.scores && game.scores[0] === game.scores[1] && inBracket(tournament, m);
  const ready = over && game.scores && !level && !game.playOff;
  return html`
    <li data-match=${m.id} data-game=${game.code}>
      <span>
        <${Which} tournament=${tournament} m=${m} /> <b>${sidesOf(tournament, m)}</b> ${game.scores && `${game.scores[0]} : ${game.scores[1]}`}
        <span class="aside">${directing.joinCode} <span class="code">${game.code}</span></span>
        ${over && html`<span class="note">${game.scores ? directing.gameEnded : directing.sideMissing}</span>`}
      </span>
      <span class="change">
        ${!over && html`
          <a class="main" href=${`/host?game=${encodeURIComponent(game.code)}`} target="_blank" rel="opener">${directing.console}</a>
          ${boardOf(tournament, m.id) === 0 && html`<a href=${`/board?game=${encodeURIComponent(game.code)}`} target="_blank" rel="noreferrer">${sheet.board}</a>`}`}
        ${ready && html`<button type="button" class="main" onClick=${() => onDo('record', { match: m.id, outcome: 'played', home: game.scores[0], away: game.scores[1] })}>${directing.takeOver(game.scores)}</button>`}
        ${level && html`<button type="button" class="main" onClick=${onStart}>${directing.playOff}</button>`}
        ${over && !level && html`<button type="button" onClick=${onStart}>${directing.again}</button>`}
        <button type="button" aria-label=${directing.resultTitle(sidesOf(tournament, m))} onClick=${() => onResult(m.id)}>${directing.result}</button>
      </span>
    </li>`;
}

// ResultDialog records a result, or corrects the one that is there.
export function ResultDialog({ tournament, id, onDo, onClose }) {
  const box = useRef(null);
  const m = matchesOf(tournament).find((o) => o.id === id);
  const old = m.result ?? {};
  const live = tournament.games[id]?.scores ?? [];
  const [draft, setDraft] = useState({ outcome: old.outcome ?? 'played', home: old.home ?? live[0] ?? 0, away: old.away ?? live[1] ?? 0, winner: old.winner ?? 0 });
  const edit = (fields) => setDraft({ ...draft, ...fields });
  const bracket = inBracket(tournament, m);
  const played = draft.outcome === 'played';
  const outcomes = Object.entries(directing.outcomes).filter(([o]) => o !== '' || old.outcome);
  const sides = [m.home.entrant, m.away.entrant].map((e) => [String(e), nameOf(tournament, e)]);
  const none = played ? [['0', directing.byScore]] : bracket ? [] : [['0', directing.neither]];
  useEffect(() => box.current.showModal(), []);

  async function submit(event) {
    event.preventDefault();
    const winner = none.length === 0 && draft.winner <= 0 ? m.home.entrant : Math.max(0, draft.winner);
    const result = { outcome: draft.outcome, winner, ...(played && { home: draft.home, away: draft.away }) };
    box.current.close();
    await onDo(old.outcome ? 'correct' : 'record', { match: id, ...result });
  }

  return html`
    <dialog ref=${box} aria-labelledby="result-title" onClose=${onClose}>
      <form onSubmit=${submit}>
        <h2 id="result-title">${directing.resultTitle(sidesOf(tournament, m))}</h2>
        <${Choice} id="result-outcome" label=${directing.outcomeLabel} value=${draft.outcome} choices=${outcomes} onValue=${(outcome) => edit({ outcome })} />
        ${played && html`
          <div class="fields">
            ${[['home', m.home], ['away', m.away]].map(([side, seat]) => html`
              <${Field} key=${side} id=${`result-${side}`} label=${directing.scoreOf(nameOf(tournament, seat.entrant))}>
                <input id=${`result-${side}`} type="number" required step="1" value=${draft[side]} onInput=${(e) => edit({ [side]: e.target.valueAsNumber })} />
              <//>`)}
          </div>`}
        ${draft.outcome && (bracket || !played) && html`
          <${Choice} id="result-winner" label=${played ? directing.winnerLevel : directing.winner} value=${String(draft.winner)} choices=${[...none, ...sides]} onValue=${(w) => edit({ winner: Number(w) })} />`}
        <div class="pair">
          <button type="button" onClick=${() => box.current.close()}>${directing.cancel}</button>
          <button type="submit" class="main">${directing.save}</button>
        </div>
      </form>
    </dialog>`;
}
