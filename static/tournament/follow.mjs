// A board that stays for a whole tournament: it shows each match that is played at
// it, and between two the bracket and what comes next.

import { html, render, useEffect, useState } from '../vendor/preact-htm.mjs';
import { Interval, NoBoard } from './follow-screens.mjs';
import { NoTournament } from './none.mjs';
import { tournamentInAddress, useTournament } from './data.mjs';
import { gameOf } from './way.mjs';
import { BoardScreen } from '../board/screens.mjs';
import { useLive } from '../lib/live.mjs';
import { learnNames } from '../lib/species.mjs';
import { Connecting } from '../parts/parts.mjs';
import { tournament as words } from '../words/tournament.mjs';

const unknown = 404;
const hello = () => ({ type: 'board' });

// useShown is the match at the board, and the one before it.
function useShown(now) {
  const [{ match, before }, set] = useState({ match: 0, before: 0 });
  useEffect(() => { if (now && now !== match) set({ match: now, before: match }); }, [now]);
  return now && now !== match ? match : now ? before : match;
}

function Page({ code, board }) {
  const { tournament, failed } = useTournament(code, { minutes: '' });
  const [left, leave] = useState(''); // the game that has ended, as its socket told before the tournament did
  const match = tournament?.at[board - 1] ?? 0;
  const before = useShown(match);
  if (failed?.status === unknown) return html`<${NoTournament} message=${words.unknown} />`;
  if (!tournament) return html`<${Connecting} />`;
  if (board > tournament.boards) return html`<${NoBoard} board=${board} of=${tournament.boards} />`;
  const game = gameOf(tournament, match);
  const between = { tournament, board, before, lost: Boolean(failed) };
  if (!game || game.code === left) return html`<${Interval} ...${between} />`;
  return html`<${Match} key=${game.code} code=${game.code} between=${between} onOver=${() => leave(game.code)} />`;
}

function Match({ code, between, onOver }) {
  const { state, link, stop } = useLive(code, hello);
  const over = state?.phase === 'ended' || Boolean(stop);
  useEffect(() => { if (over) onOver(); }, [over]);
  if (!state || over || state.phase === 'lobby') return html`<${Interval} ...${between} />`;
  const { tournament } = between;
  const way = { code: tournament.code, qr: `/qr.svg?tournament=${encodeURIComponent(tournament.code)}` };
  return html`<${BoardScreen} state=${{ ...state, ...way }} link=${link} />`;
}

function boardInAddress() {
  const n = Number(new URLSearchParams(location.search).get('board') ?? 1);
  return Number.isInteger(n) && n > 0 ? n : 1;
}

const code = tournamentInAddress();
learnNames().then(() => render(code ? html`<${Page} code=${code} board=${boardInAddress()} />` : html`<${NoTournament} message=${words.noCode} />`, document.getElementById('page')));
