// The season's page for its host.

import { html, useCallback, useEffect, useState } from './vendor/preact-htm.mjs';
import { askSeason, countGame, eraseSeason, eraseTeam, saveSeason, setSeason } from './club-data.mjs';
import { keyed } from './keyed.mjs';
import { Connecting, Stopped } from './parts.mjs';
import { SeasonPage } from './season-screens.mjs';
import { club, common, landing } from './words.mjs';

const inAddress = () => new URLSearchParams(location.search).get('season') ?? '';
const why = ({ status, message }) => message ?? (status ? club.refusedWith(status) : landing.unreachable);

function Season({ secret, checked }) {
  const [wish, setWish] = useState({ season: inAddress(), until: '' });
  const [view, setView] = useState(null);
  const [failed, setFailed] = useState('');
  const [message, setMessage] = useState('');

  const load = useCallback(async () => {
    const { data, ...refusal } = await checked(askSeason(secret, wish.season, wish.until));
    setFailed(data ? '' : why(refusal));
    if (data) setView(data);
  }, [secret, wish]);
  useEffect(() => { load(); }, [load]);

  const choose = (season) => {
    history.replaceState(null, '', season ? `/season?season=${encodeURIComponent(season)}` : '/season');
    setWish({ season, until: '' });
  };

  // change does one thing at the hub, says what went wrong, and shows the season anew.
  async function change(answer, then = load) {
    const { data, ...refusal } = await checked(answer);
    setMessage(data ? '' : why(refusal));
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
    onSave=${async () => { const { status } = await checked(saveSeason(secret, season.id)); setMessage(status === undefined ? '' : club.cannotRead); }}
    onPrint=${() => print()} />`;
}

keyed(Season);
