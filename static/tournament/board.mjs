// The public page of a tournament. It looks again and again, and decides nothing.

import { html, render, useEffect, useState } from '../vendor/preact-htm.mjs';
import { TournamentBoard } from './board-screens.mjs';
import { tournamentInAddress, useTournament } from './data.mjs';
import { NoTournament } from './none.mjs';
import { Connecting } from '../parts/parts.mjs';
import { tournament as words } from '../words/tournament.mjs';

const unknown = 404;
const minute = 60_000;

function paceInAddress() {
  const given = new URLSearchParams(location.search);
  return { minutes: given.get('minutes') ?? '' };
}

function useClock() {
  const [clock, setClock] = useState(Date.now);
  useEffect(() => {
    const timer = setInterval(() => setClock(Date.now()), minute);
    return () => clearInterval(timer);
  }, []);
  return clock;
}

function Page({ code, pace }) {
  const { tournament, failed } = useTournament(code, pace);
  const clock = useClock();
  if (failed?.status === unknown) return html`<${NoTournament} message=${words.unknown} />`;
  if (!tournament) return html`<${Connecting} />`;
  return html`<${TournamentBoard} tournament=${tournament} clock=${clock} lost=${!!failed} />`;
}

const code = tournamentInAddress();
render(code ? html`<${Page} code=${code} pace=${paceInAddress()} />` : html`<${NoTournament} message=${words.noCode} />`, document.getElementById('page'));
