// The season's page for its host.

import { html, useCallback, useEffect, useState } from '../vendor/preact-htm.mjs';
import { askSeason, countGame, eraseSeason, eraseTeam, saveSeason, setSeason } from './data.mjs';
import { keyed } from '../parts/keyed.mjs';
import { Connecting, Stopped } from '../parts/parts.mjs';
import { SeasonPage } from './screens.mjs';
import { club } from '../words/club.mjs';
import { common } from '../words/common.mjs';

const inAddress = () => new URLSearchParams(location.search).get('season') ?? '';

function Season({ secret, checked }) {
  const [wish, setWish] = useState({ season: inAddress(), until: '' });
  const [view, setView] = useState(null);
  const [failed, setFailed] = useState('');
  const [message, setMessage] = useState('');

  const load = useCallback(async () => {
    const { data, message: why = '' } = await checked(askSeason(secret, wish.season, wish.until));
    setFailed(why);
    if (data) setView(data);
  }, [secret, wish]);
  useEffect(() => { load(); }, [load]);

  const choose = (season) => {
    history.replaceState(null, '', season ? `/season?season=${encodeURIComponent(season)}` : '/season');
    setWish({ season, until: '' });
  };

  // change does one thing at the hub, says what went wrong, and shows the season anew.
  async function change(answer, then = load) {
    const { data, message: why = '' } = await checked(answer);
    setMessage(why);
    if (data) await then();
  }

  if (failed) return html`<${Stopped} title=${club.season} text=${failed} action=${common.tryAgain} onAction=${() => (view ? load() : choose(''))} />`;
  if (!view) return html`<${Connecting} />`;
  const { season } = view;
  return html`<${SeasonPage} view=${view} message=${message}
    onChoose=${choose} onUntil=${(until) => setWish({ season: season.id, until })}
    onShow=${(fields) => change(setSeason(secret, { ...season, ...fields }))}
    onCount=${(game, out) => change(countGame(secret, season.id, game, out))}
    onEraseTeam=${(team) => change(eraseTeam(secret, season.id, team))}
    onEraseSeason=${() => change(eraseSeason(secret, season.id), () => choose(''))}
    onSave=${async () => { const { message: why } = await checked(saveSeason(secret, season.id)); setMessage(why ? club.cannotRead : ''); }}
    onPrint=${() => print()} />`;
}

keyed(Season);
