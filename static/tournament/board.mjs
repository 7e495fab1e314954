// The public page of a tournament. It looks again and again, and decides nothing.

import { html, render, useEffect, useState } from '../vendor/preact-htm.mjs';
import { CupScreen, NoCup } from './board-screens.mjs';
import { cupInAddress, useCup } from './data.mjs';
import { Connecting } from '../parts/parts.mjs';
import { tournament as words } from '../words/tournament.mjs';

const unknown = 404;
const minute = 60_000;

function paceInAddress() {
  const given = new URLSearchParams(location.search);
  return { boards: given.get('boards') ?? '', minutes: given.get('minutes') ?? '' };
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
  const { cup, failed } = useCup(code, pace);
  const clock = useClock();
  if (failed?.status === unknown) return html`<${NoCup} message=${words.unknown} />`;
  if (!cup) return html`<${Connecting} />`;
  return html`<${CupScreen} cup=${cup} clock=${clock} lost=${!!failed} />`;
}

const code = cupInAddress();
render(code ? html`<${Page} code=${code} pace=${paceInAddress()} />` : html`<${NoCup} message=${words.noCode} />`, document.getElementById('page'));
