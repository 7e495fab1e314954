// The host's page of a tournament: the key, the tournament, then its console.

import { html, render, useEffect, useState } from '../vendor/preact-htm.mjs';
import { createTournament, tournamentInAddress, listTournaments, useTournament } from './data.mjs';
import { useHostKey } from '../lib/host-key.mjs';
import { KeyForm } from '../parts/key-form.mjs';
import { Connecting } from '../parts/parts.mjs';
import { lasting } from '../lib/storage.mjs';
import { ChooseTournament, TournamentConsole } from './screens.mjs';
import { tournament as words } from '../words/tournament.mjs';

const wrongKey = 403;
const unknown = 404;
const minute = 60_000;

function Page() {
  const { key, problem, setProblem, enterKey, refuseKey } = useHostKey();
  const [code, setCode] = useState(tournamentInAddress);

  function open(found, why = '') {
    history.replaceState(null, '', found ? `/tournament?id=${encodeURIComponent(found)}` : '/tournament');
    setProblem(why);
    setCode(found);
  }

  if (!key) return html`<${KeyForm} key=${problem} message=${problem} onKey=${enterKey} />`;
  if (!code) return html`<${Choosing} secret=${key} message=${problem} onOpen=${open} onWrongKey=${refuseKey} />`;
  return html`<${Running} key=${code} code=${code} secret=${key} onWrongKey=${refuseKey} onUnknown=${() => open('', words.unknown)} />`;
}

function Choosing({ secret, message, onOpen, onWrongKey }) {
  const [tournaments, setTournaments] = useState(null);
  const [problem, setProblem] = useState(message);

  useEffect(() => {
    listTournaments(secret).then(({ data, status, message: why }) => {
      if (status === wrongKey) onWrongKey();
      else if (why) setProblem(why);
      setTournaments(data ?? []);
    });
  }, [secret]);

  async function make(name, settings) {
    const { data, message: why } = await createTournament(secret, { name, settings });
    if (!data) return why;
    onOpen(data.code);
    return '';
  }

  if (!tournaments) return html`<${Connecting} />`;
  return html`<${ChooseTournament} tournaments=${tournaments} message=${problem} onMake=${make} onOpen=${onOpen} />`;
}

// useKept is a setting of this device, for a tournament.
function useKept(name, usual) {
  const [value, setValue] = useState(() => ({ ...usual, ...JSON.parse(lasting.get(name) ?? '{}') }));
  function set(changed) {
    lasting.set(name, JSON.stringify(changed));
    setValue(changed);
  }
  return [value, set];
}

function Running({ code, secret, onWrongKey, onUnknown }) {
  const [pace, setPace] = useKept(`fieldsign.pace.${code}`, { minutes: 10 });
  const [kept, setPlan] = useKept(`fieldsign.match.${code}`, {});
  const plan = { open: 4, buzz: 2, seconds: 20, season: '', ...kept };
  const { tournament, failed, give } = useTournament(code, pace, secret);
  const [message, setMessage] = useState('');
  const [clock, setClock] = useState(Date.now);

  useEffect(() => {
    const timer = setInterval(() => setClock(Date.now()), minute);
    return () => clearInterval(timer);
  }, []);
  useEffect(() => { if (failed?.status === unknown) onUnknown(); }, [failed]);

  async function onDo(type, fields) {
    const { status, message: why = '', tournament: now } = await give(type, fields);
    if (status === wrongKey) onWrongKey();
    setMessage(why);
    return { refused: why !== '', entrants: now?.entrants ?? [] };
  }

  if (!tournament) return html`<${Connecting} />`;
  return html`<${TournamentConsole} ...${{ tournament, pace, plan, clock, onDo }} message=${message || (failed ? words.lost : '')}
    onPace=${setPace} onPlan=${setPlan} onDismiss=${() => setMessage('')} />`;
}

render(html`<${Page} />`, document.getElementById('page'));
