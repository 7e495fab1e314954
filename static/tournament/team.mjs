// A team's phone for a whole tournament: it signs in once, is called to each match,
// goes there and comes back by itself.

import { html, render, useEffect, useState } from '../vendor/preact-htm.mjs';
import { playingOf } from './way.mjs';
import { sit, stand, tournamentInAddress, useTournament } from './data.mjs';
import { NoTournament } from './none.mjs';
import { ChooseTeam, TeamWaits } from './team-screens.mjs';
import { newID } from '../lib/codes.mjs';
import { useLater } from '../lib/later.mjs';
import { lasting } from '../lib/storage.mjs';
import { Connecting } from '../parts/parts.mjs';
import { missed, practiceOf } from '../lib/missed.mjs';
import { called } from '../words/called.mjs';
import { tournament as words } from '../words/tournament.mjs';

const unknown = 404;
const inPlay = 3000; // ms between looks while the match's own socket tells what happens
const patience = 2000; // ms until a hub that did not answer is asked again

// useSeat is what this phone keeps: {entrant, token, seat}, the seat once the hub
// has given it, or {entrant} for one that looks on, or null.
function useSeat(code) {
  const key = `fieldsign.seat.${code}`;
  const [seat, set] = useState(() => JSON.parse(lasting.get(key) ?? 'null'));
  function keep(next) {
    if (next) lasting.set(key, JSON.stringify(next));
    else lasting.drop(key);
    set(next);
  }
  return [seat, keep];
}

// lostBy says why a seat does not hold any more by what the hub shows, or nothing.
function lostBy(tournament, seat) {
  if (!tournament.entrants[seat.entrant - 1]) return called.gone;
  const told = seat.seat && tournament.seq >= seat.seat; // what is shown may be older than the seat
  return told && tournament.seats[seat.entrant] !== seat.seat ? called.freed : '';
}

function Page({ code }) {
  const [seat, keep] = useSeat(code);
  const playing = (tournament) => (seat?.seat ? playingOf(tournament, seat.entrant) : null);
  const { tournament, failed } = useTournament(code, { minutes: '' }, '', (seen) => (playing(seen) ? inPlay : 1000));
  const [message, setMessage] = useState('');
  const [left, leave] = useState(''); // the game that has ended, as its socket told before the tournament did
  const match = useLater(Boolean(tournament), () => import('./match.mjs'));
  const why = tournament && seat ? lostBy(tournament, seat) : '';

  useEffect(() => { if (why) leaveSeat(why); }, [why]);
  useEffect(() => {
    if (!seat?.token || seat.seat) return undefined;
    let timer = 0;
    async function ask() {
      const { data, status, message: refused } = await sit(code, seat.entrant, seat.token);
      if (data) keep({ ...seat, seat: data.seat });
      else if (status === 0) timer = setTimeout(ask, patience);
      else leaveSeat(`${called.notSignedIn} ${refused}`);
    }
    ask();
    return () => clearTimeout(timer);
  }, [seat]);

  function leaveSeat(said = '') {
    setMessage(said);
    keep(null);
  }

  async function onChange() {
    if (seat.token) await stand(code, seat.entrant, seat.token);
    leaveSeat();
  }

  // The host has freed the seat in the match alone.
  function onFreed() {
    stand(code, seat.entrant, seat.token);
    leaveSeat(called.freed);
  }

  if (failed?.status === unknown) return html`<${NoTournament} message=${words.unknown} />`;
  if (!tournament) return html`<${Connecting} />`;
  if (!seat || why) {
    return html`<${ChooseTeam} tournament=${tournament} message=${message} onSit=${(entrant) => { setMessage(''); keep({ entrant, token: newID() }); }}
      onLook=${(entrant) => { setMessage(''); keep({ entrant }); }} />`;
  }
  if (seat.token && !seat.seat) return html`<main class="stopped"><h1>${called.signingIn}</h1></main>`;
  const now = playing(tournament);
  if (now && now.code !== left && !match) return html`<${Connecting} />`;
  if (now && now.code !== left) return html`<${match.Match} key=${now.code} code=${now.code} name=${now.side} token=${seat.token} onOver=${() => leave(now.code)} onFreed=${onFreed} />`;
  const count = left ? missed(left).length : 0;
  return html`<${TeamWaits} tournament=${tournament} entrant=${seat.entrant} looking=${!seat.token} left=${left} lost=${Boolean(failed)}
    review=${count > 0 && { href: practiceOf(left), count }} onChange=${onChange} />`;
}

const code = tournamentInAddress();
render(code ? html`<${Page} code=${code} />` : html`<${NoTournament} message=${words.noCode} />`, document.getElementById('page'));
