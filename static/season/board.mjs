// A season's table for everyone, where its host has opened it.

import { html, render, useEffect, useState } from '../vendor/preact-htm.mjs';
import { askBoard } from './data.mjs';
import { Connecting } from '../parts/parts.mjs';
import { BoardClosed, SeasonBoard } from './screens.mjs';

const every = 20_000; // ms between looks
const season = new URLSearchParams(location.search).get('season') ?? '';

// While the hub does not answer, the board keeps what it shows.
function Board() {
  const [board, setBoard] = useState(null);
  const [closed, setClosed] = useState(false);

  async function look() {
    const { data, status } = await askBoard(season);
    if (data) setBoard(data);
    if (data || status) setClosed(!data);
  }

  useEffect(() => {
    look();
    const timer = setInterval(look, every);
    return () => clearInterval(timer);
  }, []);

  if (closed) return html`<${BoardClosed} />`;
  return board ? html`<${SeasonBoard} board=${board} />` : html`<${Connecting} />`;
}

render(html`<${Board} />`, document.getElementById('page'));
