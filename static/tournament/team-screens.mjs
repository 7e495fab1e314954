// What a phone shows that is signed in for a whole tournament, between its matches.

import { html } from '../vendor/preact-htm.mjs';
import { pastOf, standingOf } from './way.mjs';
import { Heading, Languages, Message, Sign, Spot } from '../parts/parts.mjs';
import { called } from '../words/called.mjs';
import { team } from '../words/team.mjs';
import { tournament as words } from '../words/tournament.mjs';

const still = (tournament) => tournament.order.filter((e) => !tournament.entrants[e - 1].withdrawn);

// ChooseTeam: message is why the phone is not signed in.
export function ChooseTeam({ tournament, message = '', onSit, onLook }) {
  const list = still(tournament).map((entrant) => ({ entrant, name: tournament.entrants[entrant - 1].name, taken: Boolean(tournament.seats[entrant]) })).sort((a, b) => a.name.localeCompare(b.name));
  return html`
    <main class="sheet sides">
      <p class="where">${tournament.name || words.title}</p>
      <${Heading}>${called.choose}<//>
      <p>${list.length === 0 ? called.noneYet : called.chooseHint}</p>
      <${Message} text=${message} />
      ${list.map(({ entrant, name, taken }) => html`
        <button type="button" key=${entrant} class=${taken ? '' : 'main'} disabled=${taken} onClick=${() => onSit(entrant)}>${name}${taken && ` (${called.takenOne})`}</button>`)}
      ${list.some((o) => o.taken) && html`
        <details>
          <summary>${called.look}</summary>
          <p class="hint">${called.lookHint}</p>
          ${list.filter((o) => o.taken).map(({ entrant, name }) => html`<button type="button" key=${entrant} onClick=${() => onLook(entrant)}>${called.lookAs(name)}</button>`)}
        </details>`}
      <${Languages} />
    </main>`;
}

const saying = {
  entry: () => [called.notDrawn, called.stay],
  withdrawn: () => [called.withdrawn, called.withdrawnMore],
  goTo: (s, t) => [called.goTo(s.board, t.boards), `${called.meets(s.against)} ${called.opens}`],
  next: (s) => [called.next(s.against), called.waits],
  nextFrom: (s) => [called.nextFrom(s.seat), called.waits],
  level: () => [called.level, called.levelMore],
  over: () => [called.over, called.overMore],
  plays: (s, t) => [called.plays(s.board, t.boards), called.playsMore(s.against)],
  pausing: () => [called.pausing, called.pausingMore],
  out: (s, t) => [called.out, s.rank > 0 ? (t.phase === 'ended' ? called.place : called.soFar)(s.rank, t.order.length) : ''],
  won: () => [called.won, ''],
};

// TeamWaits: looking is a phone that does not play; left is the game that it has
// come back from; review leads to what its team did not know there.
export function TeamWaits({ tournament, entrant, looking = false, left = '', lost = false, review, onChange }) {
  const { name } = tournament.entrants[entrant - 1];
  const seen = standingOf(tournament, entrant);
  const standing = seen.kind === 'plays' && Object.values(tournament.games).some((g) => g.code === left) ? { ...seen, kind: 'over' } : seen;
  const [title, text] = saying[standing.kind](standing, tournament);
  const past = pastOf(tournament, entrant);
  return html`
    <header class="strip"><b>${name}</b><span>${tournament.name || words.title}</span></header>
    <div role="status" class="banners">${lost && html`<p class="banner urgent">${words.lost}</p>`}</div>
    <main class="sheet calls">
      <div class=${`call ${standing.kind}`} role="status">
        <${Heading}>${title}<//>
        ${text && html`<p>${text}</p>`}
      </div>
      ${review && html`<p><a class="again" target="_blank" rel="noopener" href=${review.href}>${team.goOver}</a></p>`}
      ${past.length === 0 && html`<p class="spots"><${Spot} name="raccoon-print" /><${Spot} name="bobcat-print" /></p>`}
      ${tournament.phase !== 'entry' && html`
        <section>
          <h2>${called.way}</h2>
          ${past.length === 0 && html`<p>${called.noWay}</p>`}
          <ol class="past">${past.map((m) => html`
            <li key=${m.id}>
              <span><span class="aside">${called.match(m.id)}</span> ${m.against}</span>
              <span>${m.outcome === 'played' ? called.result(m.own, m.other) : words.short[m.outcome]} ${m.ended === 'won' && html`<${Sign} kind="right" />`} ${called.ended[m.ended]}</span>
            </li>`)}</ol>
        </section>`}
      <p class="hint">${looking ? called.lookingOn(name) : called.signedIn(name)}. ${standing.kind !== 'entry' && !looking && tournament.phase !== 'ended' && called.stay}</p>
      <p><button type="button" onClick=${onChange}>${looking ? called.stopLooking : called.change}</button></p>
      <${Languages} />
    </main>`;
}

