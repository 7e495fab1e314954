// The debrief's page: the key, the game, then the report.

import { html, render, useCallback, useEffect, useState } from '../vendor/preact-htm.mjs';
import { ChooseDebrief, Report } from './screens.mjs';
import { KeyForm } from '../parts/key-form.mjs';
import { useHostKey } from '../lib/host-key.mjs';
import { Connecting, Stopped, gameInAddress } from '../parts/parts.mjs';
import { askDebrief, createGame, saveResults } from '../lib/games.mjs';
import { learnNames, speak } from '../lib/species.mjs';
import { common, joining, stops } from '../words/common.mjs';
import { debrief } from '../words/debrief.mjs';

const refusedKey = 403;
const unknownGame = 404;

function Debrief() {
  const { key, problem, setProblem, enterKey, refuseKey } = useHostKey();
  const [code, setCode] = useState(gameInAddress);

  function openGame(found, why = '') {
    history.replaceState(null, '', found ? `/debrief?game=${encodeURIComponent(found)}` : '/debrief');
    setProblem(why);
    setCode(found);
  }

  if (!key) return html`<${KeyForm} key=${problem} message=${problem} onKey=${enterKey} />`;
  if (!code) return html`<${ChooseDebrief} message=${problem} onCode=${openGame} />`;
  return html`<${Reading} code=${code} secret=${key} onWrongKey=${refuseKey} onUnknown=${() => openGame('', stops[4100])} />`;
}

// printStudy prints the study sheet in place of the report.
function printStudy() {
  const { classList } = document.documentElement;
  classList.add('study');
  addEventListener('afterprint', () => classList.remove('study'), { once: true });
  print();
}

function Reading({ code, secret, onWrongKey, onUnknown }) {
  const [report, setReport] = useState(null);
  const [failed, setFailed] = useState('');
  const [message, setMessage] = useState('');

  const load = useCallback(async () => {
    const { data: found, status } = await askDebrief(secret, code);
    if (status === refusedKey) onWrongKey();
    else if (status === unknownGame) onUnknown();
    else setFailed(found ? '' : status ? debrief.cannotRead : joining.unreachable);
    if (found) {
      speak(found.language);
      setReport(found);
    }
  }, [secret, code]);
  useEffect(() => { load(); }, [load]);

  async function save() {
    const { message: why } = await saveResults(secret, code);
    setMessage(why ? common.noResults : '');
  }

  async function plan() {
    const { data } = await createGame(secret, code);
    if (data) location.assign(`/host?game=${encodeURIComponent(data.code)}`);
    else setMessage(debrief.cannotPlan);
  }

  if (failed) return html`<${Stopped} title=${debrief.title} text=${failed} action=${common.tryAgain} onAction=${load} />`;
  if (!report) return html`<${Connecting} />`;
  return html`<${Report} report=${report} message=${message} onReload=${load} onSave=${save} onPlan=${plan} onPrint=${() => print()} onStudy=${printStudy} />`;
}

learnNames().then(() => render(html`<${Debrief} />`, document.getElementById('page')));
