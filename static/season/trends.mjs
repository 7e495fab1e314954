// The page of trends over a club's games.

import { html, useCallback, useEffect, useState } from '../vendor/preact-htm.mjs';
import { askSeason, askTrends } from './data.mjs';
import { keyed } from '../parts/keyed.mjs';
import { Connecting, Stopped } from '../parts/parts.mjs';
import { TrendsPage } from './trends-screens.mjs';
import { club } from '../words/club.mjs';
import { common } from '../words/common.mjs';

const inAddress = () => new URLSearchParams(location.search).get('season') ?? '';

function Page({ secret, checked }) {
  const [wish, setWish] = useState({ season: inAddress(), games: [] });
  const [seasons, setSeasons] = useState([]);
  const [view, setView] = useState(null);
  const [failed, setFailed] = useState('');

  useEffect(() => {
    checked(askSeason(secret)).then(({ data }) => setSeasons(data?.seasons ?? []));
  }, [secret]);

  const load = useCallback(async () => {
    const { data, message = '' } = await checked(askTrends(secret, wish.season, wish.games));
    setFailed(message);
    if (data) setView(data);
  }, [secret, wish]);
  useEffect(() => { load(); }, [load]);

  if (failed) return html`<${Stopped} title=${club.trends} text=${failed} action=${common.tryAgain} onAction=${() => setWish({ season: '', games: [] })} />`;
  if (!view) return html`<${Connecting} />`;
  return html`<${TrendsPage} key=${wish.season} view=${view} season=${wish.season} seasons=${seasons}
    onSeason=${(season) => setWish({ season, games: [] })} onGames=${(games) => setWish({ ...wish, games })} onPrint=${() => print()} />`;
}

keyed(Page);
