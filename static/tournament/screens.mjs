// What the host's page of a tournament shows: the making, the entry, the play.

import { html, useState } from '../vendor/preact-htm.mjs';
import { Bracket } from './bracket.mjs';
import { News } from './board-screens.mjs';
import { Tables } from './tables.mjs';
import { Dialog } from '../parts/dialog.mjs';
import { suggestName } from '../lib/names.mjs';
import { Field, Heading, Languages, Message, Spot, reaches } from '../parts/parts.mjs';
import { Check, Choice, Count, bounds, Text } from '../parts/fields.mjs';
import { MatchLists, ResultDialog } from './matches.mjs';
import { club } from '../words/club.mjs';
import { directing } from '../words/directing.mjs';
import { sheet } from '../words/sheet.mjs';
import { tournament as words } from '../words/tournament.mjs';

const nameBound = 60;

// The first format needs no explanation, and sends nobody home.
const usual = { format: 'round robin', twice: false, third: false, rounds: 0, pools: 2, advance: 2, then: 'single elimination', lots: false };
// used are the settings that each format has.
const used = { 'round robin': ['twice'], 'single elimination': ['third'], 'double elimination': [], swiss: ['rounds'], pools: ['pools', 'advance', 'then', 'twice'] };

function settingsOf(draft) {
  const own = used[draft.format].concat(used[draft.format].includes('then') && draft.then === 'single elimination' ? 'third' : []);
  return { format: draft.format, lots: draft.lots, ...Object.fromEntries(own.map((name) => [name, draft[name]])) };
}

// ChooseTournament: onMake(name, settings) resolves to what is wrong, or to nothing.
export function ChooseTournament({ tournaments, message = '', onMake, onOpen }) {
  const [draft, setDraft] = useState(usual);
  const [name, setName] = useState('');
  const [problem, setProblem] = useState('');
  const edit = (fields) => setDraft({ ...draft, ...fields });
  const has = (field) => used[draft.format].includes(field);
  const bracketed = [['single elimination', sheet.formats['single elimination']], ['double elimination', sheet.formats['double elimination']]];

  async function submit(event) {
    event.preventDefault();
    setProblem((await onMake(name.trim(), settingsOf(draft))) ?? '');
  }

  return html`
    <main class="sheet">
      <${Heading}>${words.title}<//>
      <p class="lead">${directing.lead}</p>
      <${Message} text=${message} />
      <section>
        <h2>${directing.make}</h2>
        <form onSubmit=${submit}>
          <${Field} id="tournament-name" label=${directing.name}><input id="tournament-name" value=${name} maxlength=${nameBound} autocomplete="off" onInput=${(e) => setName(e.target.value)} /><//>
          <${Choice} id="tournament-format" label=${directing.format} value=${draft.format} choices=${Object.entries(sheet.formats)} onValue=${(format) => edit({ format })} />
          <p class="hint">${directing.formatHints[draft.format]}</p>
          ${has('rounds') && html`<${Count} id="tournament-rounds" label=${directing.rounds} hint=${directing.roundsHint} value=${draft.rounds} max=${255} onValue=${(rounds) => edit({ rounds })} />`}
          ${has('pools') && html`
            <div class="fields">
              <${Count} id="tournament-pools" label=${directing.pools} min=${2} max=${128} value=${draft.pools} onValue=${(pools) => edit({ pools })} />
              <${Count} id="tournament-advance" label=${directing.advance} min=${1} max=${128} value=${draft.advance} onValue=${(advance) => edit({ advance })} />
            </div>
            <${Choice} id="tournament-then" label=${directing.then} value=${draft.then} choices=${bracketed} onValue=${(then) => edit({ then })} />`}
          ${has('twice') && html`<${Check} id="tournament-twice" label=${directing.twice} checked=${draft.twice} onValue=${(twice) => edit({ twice })} />`}
          ${(has('third') || (has('then') && draft.then === 'single elimination')) && html`<${Check} id="tournament-third" label=${directing.thirdPlace} checked=${draft.third} onValue=${(third) => edit({ third })} />`}
          <${Check} id="tournament-lots" label=${directing.lots} checked=${draft.lots} onValue=${(lots) => edit({ lots })} />
          <p class="hint">${sheet.rules(draft).join(' ')}</p>
          <${Message} text=${problem} />
          <button type="submit" class="main">${directing.create}</button>
        </form>
      </section>
      <section>
        <h2>${directing.mine}</h2>
        ${tournaments.length === 0 && html`<p>${directing.none}</p><p class="spots"><${Spot} name="bobcat-print" /><${Spot} name="raccoon-print" /></p>`}
        <ul class="ways">${tournaments.map((c) => html`
          <li key=${c.code}><a href=${`/tournament?id=${encodeURIComponent(c.code)}`} onClick=${(e) => { e.preventDefault(); onOpen(c.code); }}>${c.name || c.code}</a>
            <p class="hint">${directing.phases[c.phase]}, <span class="code">${c.code}</span></p></li>`)}</ul>
      </section>
      <${Languages} />
    </main>`;
}

// TournamentConsole: onDo(type, fields) resolves to the hub's refusal, or to nothing.
export function TournamentConsole({ tournament, pace, plan, clock, message, onDo, onPace, onPlan, onDismiss }) {
  const [dialog, setDialog] = useState(null);
  const [result, setResult] = useState(null); // the match whose result is asked for
  const ask = (question, go) => setDialog({ ...question, go });
  const awaited = tournament.phase !== 'ended' && tournament.order.some((e) => !tournament.seats[e] && !tournament.entrants[e - 1].withdrawn); // a phone
  const link = `/tournament/board?id=${encodeURIComponent(tournament.code)}&minutes=${encodeURIComponent(pace.minutes)}`;
  return html`
    <header class="strip">
      <h1>${tournament.name || words.title}</h1>
      <span>${sheet.formats[tournament.settings.format]}</span>
      <span>${sheet.phase(tournament)}</span>
      <span>${sheet.estimate(tournament.left, clock)}</span>
      ${Array.from({ length: Math.min(mostLinked, tournament.boards) }, (_, i) => html`<a key=${i} href=${`/tournament/follow?id=${encodeURIComponent(tournament.code)}&board=${encodeURIComponent(i + 1)}`} target="_blank" rel="noreferrer">${directing.openBoard(i + 1)}</a>`)}
      <a href=${link} target="_blank" rel="noreferrer">${directing.openPublic}</a>
    </header>
    ${message && html`<p class="message" role="alert">${directing.refused} ${message} <button type="button" onClick=${onDismiss}>${directing.cancel}</button></p>`}
    <div role="status" class="banners">${tournament.voided.length > 0 && html`<p class="banner">${directing.voided(tournament.voided)}</p>`}</div>
    <${News} tournament=${tournament} />
    <main class="console tournament-console">
      <div>
        ${awaited && html`<${SignIn} tournament=${tournament} />`}
        ${tournament.phase === 'entry' ? html`<${Entering} tournament=${tournament} season=${plan.season.trim()} onDo=${onDo} onAsk=${ask} />` : html`<${MatchLists} ...${{ tournament, plan, onDo }} onResult=${setResult} onAsk=${ask} />`}
        <${Steps} tournament=${tournament} onDo=${onDo} onAsk=${ask} />
      </div>
      <div>
        ${tournament.phase !== 'entry' && html`
          ${tournament.bracket > 0 && html`<section class="preview"><h2>${sheet.bracket}</h2><${Bracket} tournament=${tournament} shape=${1.4} /></section>`}
          <${Tables} tournament=${tournament} />
          <${Level} tournament=${tournament} onDo=${onDo} />`}
        ${!awaited && html`<${SignIn} tournament=${tournament} />`}
        <${Pace} pace=${pace} plan=${plan} boards=${tournament.boards} onPace=${onPace} onPlan=${onPlan} onBoards=${(boards) => boards > 0 && onDo('boards', { boards })} />
        ${tournament.phase !== 'entry' && html`<${Teams} tournament=${tournament} onDo=${onDo} onAsk=${ask} />`}
        <p class="hint">${sheet.rules(tournament.settings).join(' ')}</p>
        <p><a class="again" href="/tournament">${directing.another}</a></p>
      </div>
    </main>
    ${dialog && html`<${Dialog} ...${dialog} onClose=${() => setDialog(null)} />`}
    ${result && html`<${ResultDialog} key=${result} tournament=${tournament} id=${result} onDo=${onDo} onClose=${() => setResult(null)} />`}`;
}

const mostLinked = 4;

// SignIn is what a team's phone scans once.
function SignIn({ tournament }) {
  const { code, joinAt, order, seats } = tournament;
  const address = joinAt || location.host;
  const there = reaches(address);
  return html`
    <section class="signing-in">
      <h2>${directing.signIn}</h2>
      ${there && html`<img class="qr" src=${`/qr.svg?tournament=${encodeURIComponent(code)}&at=${encodeURIComponent(joinAt)}`} alt=${sheet.qrAlt} />`}
      <div>
        ${!there && html`<p class="note">${directing.alone}</p>`}
        <p><span class="address">${address}</span> <b class="code">${code}</b></p>
        <p>${directing.signedIn(Object.keys(seats).length, order.length)}</p>
        <p class="hint">${directing.signInHint}</p>
      </div>
    </section>`;
}

// Steps are the host's buttons for the whole tournament.
function Steps({ tournament, onDo, onAsk }) {
  const { may } = tournament;
  const finish = () => (may.finish ? onDo('finish') : onAsk(directing.finishAsk, () => onDo('finish', { early: true })));
  return html`
    <div class="controls" role="group" aria-label=${words.title}>
      ${tournament.phase === 'entry' && html`<button type="button" class="main" disabled=${!may.draw} onClick=${() => onAsk(directing.drawAsk, () => onDo('draw'))}>${directing.draw}</button>`}
      ${may.next && html`<button type="button" class="main" onClick=${() => onDo('next')}>${directing.next[tournament.settings.format]}</button>`}
      ${tournament.phase === 'play' && html`<button type="button" class=${may.finish && !may.next ? 'main' : ''} onClick=${finish}>${directing.finish}</button>`}
      ${may.undo && html`<button type="button" onClick=${() => onDo('undo')}>${directing.undo(directing.events[may.undo])}</button>`}
      ${may.redo && html`<button type="button" onClick=${() => onDo('redo')}>${directing.redo(directing.events[may.redo])}</button>`}
    </div>`;
}

function Entering({ tournament, season, onDo, onAsk }) {
  const [text, setText] = useState('');
  const [many, setMany] = useState(8);
  const lines = text.split('\n').map((line) => line.trim()).filter(Boolean);

  function drawNames() {
    const taken = new Set(tournament.order.map((e) => tournament.entrants[e - 1].name));
    const drawn = new Set();
    for (let tries = 0; drawn.size < many && tries < 40 * many; tries++) {
      const name = suggestName();
      if (!taken.has(name)) drawn.add(name);
    }
    setText([...drawn].join('\n'));
  }

  // What was refused stays in the field, with what comes after it.
  async function submit(event) {
    event.preventDefault();
    if (lines.length === 0) return;
    const { entrants, refused } = await onDo('enter', { names: lines });
    setText(refused ? lines.filter((name) => !entrants.some((e) => e.name === name && !e.withdrawn)).join('\n') : '');
  }

  return html`
    <section>
      <h2>${sheet.entrants(tournament.order.length)}</h2>
      <form onSubmit=${submit}>
        <${Field} id="names" label=${directing.enterTeams} hint=${directing.enterHint}>
          <textarea id="names" rows="8" value=${text} spellcheck="false" aria-describedby="names-hint" onInput=${(e) => setText(e.target.value)}></textarea>
        <//>
        <div class="naming">
          <${Count} id="many" label=${directing.howMany} min=${2} max=${256} value=${many} onValue=${setMany} />
          <button type="button" onClick=${drawNames}>${directing.drawNames(many)}</button>
        </div>
        <button type="submit" class="main">${directing.enter}</button>
      </form>
    </section>
    ${tournament.order.length > 0 && html`
      <section>
        <h2>${directing.seeding}</h2>
        <ol class="teams">${tournament.order.map((e, i) => html`<${EntrantRow} key=${e} ...${{ tournament, onDo, onAsk }} entrant=${e} place=${i} />`)}</ol>
        <p class="pair">
          <button type="button" onClick=${() => onDo('reseed', { seeding: 'lot' })}>${directing.byLot}</button>
          ${season && html`<button type="button" onClick=${() => onDo('reseed', { seeding: 'rating', season })}>${directing.byRating(season)}</button>`}
        </p>
      </section>`}`;
}

// raised is an order with the one at a place moved up by one.
function raised(order, place) {
  const out = [...order];
  [out[place - 1], out[place]] = [out[place], out[place - 1]];
  return out;
}

function EntrantRow({ tournament, entrant, place, onDo, onAsk }) {
  const { name } = tournament.entrants[entrant - 1];
  return html`
    <li>
      <span><span class="aside">${place + 1}</span> <b class="who">${name}</b><${PhoneIn} tournament=${tournament} entrant=${entrant} /></span>
      <span class="change">
        <${Seat} ...${{ tournament, entrant, name, onDo, onAsk }} />
        <button type="button" disabled=${place === 0} aria-label=${directing.up(name)} onClick=${() => onDo('reseed', { order: raised(tournament.order, place) })}>↑</button>
        <${Changes} ...${{ name, entrant, onDo, onAsk }} early />
      </span>
    </li>`;
}

const PhoneIn = ({ tournament, entrant }) => tournament.seats[entrant] && html` <span class="aside">${directing.phoneIn}</span>`;

// Seat has the host free the one of a wrong phone.
function Seat({ tournament, entrant, name, onDo, onAsk }) {
  if (!tournament.seats[entrant]) return null;
  const ask = directing.freePhoneAsk(name);
  return html`<button type="button" aria-label=${ask.title} onClick=${() => onAsk(ask, () => onDo('stand', { entrant }))}>${directing.freePhone}</button>`;
}

function Changes({ name, entrant, early = false, onDo, onAsk }) {
  const rename = { title: directing.renameTitle(name), yes: directing.save, value: name };
  return html`
    <button type="button" aria-label=${directing.renameTitle(name)} onClick=${() => onAsk(rename, (to) => onDo('rename', { entrant, name: to }))}>${directing.rename}</button>
    <button type="button" aria-label=${directing.withdrawAsk(name, early).title} onClick=${() => onAsk(directing.withdrawAsk(name, early), () => onDo('withdraw', { entrant }))}>${directing.withdraw}</button>`;
}

function Teams({ tournament, onDo, onAsk }) {
  const rank = new Map(tournament.ranking.map((r) => [r.entrant, r.rank]));
  const told = new Set(rank.values()).size > 1; // before the first result all would be first
  const list = [...tournament.order].sort((a, b) => (rank.get(a) || Infinity) - (rank.get(b) || Infinity));
  return html`
    <section class="teams">
      <h2>${directing.teamsTitle}</h2>
      <ul>${list.map((e) => {
        const { name, withdrawn } = tournament.entrants[e - 1];
        return html`<li key=${e}>
          <span><span class="aside">${(told && rank.get(e)) || '–'}</span> <b class="who">${name}</b>${withdrawn && ` (${sheet.withdrawn})`}<${PhoneIn} tournament=${tournament} entrant=${e} /></span>
          ${!withdrawn && html`<span class="change"><${Seat} ...${{ tournament, entrant: e, name, onDo, onAsk }} /><${Changes} ...${{ name, entrant: e, onDo, onAsk }} /></span>`}
        </li>`;
      })}</ul>
    </section>`;
}

function Pace({ pace, plan, boards, onPace, onPlan, onBoards }) {
  return html`
    <section>
      <h2>${directing.perMatch}</h2>
      <div class="fields">
        <${Count} id="plan-open" label=${directing.open} max=${bounds.questions} value=${plan.open} onValue=${(open) => onPlan({ ...plan, open })} />
        <${Count} id="plan-buzz" label=${directing.buzz} max=${bounds.questions} value=${plan.buzz} onValue=${(buzz) => onPlan({ ...plan, buzz })} />
        <${Count} id="plan-seconds" label=${directing.seconds} min=${bounds.leastSeconds} max=${bounds.seconds} value=${plan.seconds} onValue=${(seconds) => onPlan({ ...plan, seconds })} />
      </div>
      <${Text} id="tournament-season" label=${club.countIn} hint=${directing.seasonHint} most=${bounds.season} value=${plan.season} onValue=${(season) => onPlan({ ...plan, season })} />
      <p class="hint">${directing.matchHint}</p>
      <h2>${directing.pace}</h2>
      <div class="fields">
        <${Count} id="boards" label=${directing.boards} min=${1} max=${128} value=${boards} onValue=${onBoards} />
        <${Count} id="minutes" label=${directing.minutes} min=${1} max=${1000} value=${pace.minutes} onValue=${(minutes) => onPace({ ...pace, minutes })} />
      </div>
    </section>`;
}

// Level has the host put those in order whom nothing else can part. Before all of them
// have played, nothing could.
function Level({ tournament, onDo }) {
  const played = new Set(tournament.tables.flatMap((t) => t.rows).filter((r) => r.played > 0).map((r) => r.entrant));
  const groups = tournament.settings.format.includes('elimination') ? [] : tournament.level.filter((g) => g.every((e) => played.has(e)));
  if (tournament.phase !== 'play' || groups.length === 0) return null;
  return html`
    <section>
      <h2>${directing.levelTitle}</h2>
      <p>${directing.levelHint}</p>
      ${groups.map((g) => html`<${Ordering} key=${g.join()} tournament=${tournament} group=${g} onDo=${onDo} />`)}
    </section>`;
}

function Ordering({ tournament, group, onDo }) {
  const [order, setOrder] = useState(group);
  return html`
    <div>
      <h3>${directing.levelOrder}</h3>
      <ol class="teams">${order.map((e, i) => html`
        <li key=${e}><span>${i + 1}. ${tournament.entrants[e - 1].name}</span>
          <span class="change"><button type="button" disabled=${i === 0} aria-label=${directing.up(tournament.entrants[e - 1].name)} onClick=${() => setOrder(raised(order, i))}>↑</button></span></li>`)}</ol>
      <button type="button" onClick=${() => onDo('playoff', { order })}>${directing.settle}</button>
    </div>`;
}
