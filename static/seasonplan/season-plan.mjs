// The page on which a coach plans a season and opens its meetings' games.

import { html, useCallback, useEffect, useState } from '../vendor/preact-htm.mjs';
import { keyed } from '../parts/keyed.mjs';
import { Connecting, Stopped } from '../parts/parts.mjs';
import { ask, post, saveFile } from '../lib/hub.mjs';
import { SeasonPlan } from './screens.mjs';
import { common } from '../words/common.mjs';
import { seasonPlan as words } from '../words/season-plan.mjs';

const inAddress = () => new URLSearchParams(location.search).get('season') ?? '';

// today is the date on the coach's clock.
function today() {
  const now = new Date();
  return new Date(now.getTime() - 60_000 * now.getTimezoneOffset()).toISOString().slice(0, 10);
}

const at = (path, season) => `${path}?${new URLSearchParams({ season, today: today() })}`;

function Page({ secret, checked }) {
  const [season, setSeason] = useState(inAddress);
  const [view, setView] = useState(null);
  const [rosters, setRosters] = useState([]);
  const [failed, setFailed] = useState('');
  const [message, setMessage] = useState('');

  const load = useCallback(async () => {
    const list = await checked(ask(secret, '/rosters'));
    const { data, message: why = '' } = await checked(ask(secret, at('/season-plan.json', season)));
    setFailed(why);
    if (data) {
      setRosters(list.data ?? []);
      setView(data);
    }
  }, [secret, season]);
  useEffect(() => { load(); }, [load]);

  const choose = (name) => {
    history.replaceState(null, '', name ? `/season-plan?season=${encodeURIComponent(name)}` : '/season-plan');
    setSeason(name);
  };

  async function plan(name, wish) {
    const { data, message: why = '' } = await checked(post(secret, at('/season-plan', name), { season: name, wish }));
    setMessage(why);
    if (!data) return;
    if (data.season === season) await load();
    else choose(data.season);
  }

  async function open(date) {
    const { data, message: why = '' } = await checked(post(secret, at('/season-plan/game', view.season), { season: view.season, date }));
    setMessage(why);
    if (data) location.assign(`/host?game=${encodeURIComponent(data.code)}`);
  }

  async function save() {
    const { message: why } = await checked(saveFile(secret, at('/season-plan.ics', view.season), 'season.ics'));
    setMessage(why ?? '');
  }

  async function paper(date, kind, size) {
    const { message: why } = await checked(saveFile(secret, `${at('/season-plan/paper', view.season)}&${new URLSearchParams({ date, kind, size })}`));
    setMessage(why ?? '');
  }

  if (failed) return html`<${Stopped} title=${words.title} text=${failed} action=${common.tryAgain} onAction=${load} />`;
  if (!view) return html`<${Connecting} />`;
  return html`<${SeasonPlan} key=${view.season} view=${view} rosters=${rosters} today=${today()} message=${message} onMake=${plan} onOpen=${open} onSave=${save} onPaper=${paper} onPrint=${() => print()} />`;
}

keyed(Page);
