// The host's page: the key, the game, then the console.

import { html, render, useCallback, useState } from '../vendor/preact-htm.mjs';
import { ChooseGame, Console, Present, TakenOver } from './screens.mjs';
import { KeyForm } from '../parts/key-form.mjs';
import { countGame } from '../season/data.mjs';
import { useHostKey } from '../lib/host-key.mjs';
import { ask, saveFile } from '../lib/hub.mjs';
import { useLive } from '../lib/live.mjs';
import { replaced, unknownCode, wrongKey } from '../lib/protocol.mjs';
import { Connecting, Stopped, gameInAddress, whyStopped } from '../parts/parts.mjs';
import { askHostCode, askQuestions, createGame, followGame, loadSet, savePaper, saveResults, saveSet } from '../lib/games.mjs';
import { learnNames } from '../lib/species.mjs';
import { common, hub, joining, stops } from '../words/common.mjs';
import { host, keeping } from '../words/host.mjs';

const present = ['host_present'];

function Host() {
  const { key, problem, setProblem, enterKey, refuseKey } = useHostKey();
  const [code, setCode] = useState(gameInAddress);

  function openGame(found) {
    history.replaceState(null, '', found ? `/host?game=${encodeURIComponent(found)}` : '/host');
    setProblem('');
    setCode(found);
  }

  async function newGame() {
    const { data, status } = await createGame(key);
    if (data) openGame(data.code);
    else if (status === 403) refuseKey();
    else setProblem(status ? host.cannotCreate : joining.unreachable);
  }

  if (!key) return html`<${KeyForm} key=${problem} message=${problem} onKey=${enterKey} />`;
  if (!code) return html`<${ChooseGame} message=${problem} onNew=${newGame} onCode=${openGame} />`;
  return html`<${Hosting} key=${code} code=${code} secret=${key} onKey=${enterKey} onWrongKey=${refuseKey} onUnknown=${() => openGame('')} onGame=${openGame} />`;
}

function Hosting({ code, secret, onKey, onWrongKey, onUnknown, onGame }) {
  const [takeOver, setTakeOver] = useState(0); // counts, so that each wish to take over connects anew
  const [changing, setChanging] = useState(false); // the key: a console with the old one would be sent away
  const hello = useHello(changing ? '' : secret, takeOver);
  const live = useLive(code, hello);
  const [message, setMessage] = useState('');
  const onTake = () => setTakeOver((n) => n + 1);

  async function onDo(action, fields) {
    const reply = await live.command({ type: 'do', action, ...fields });
    setMessage(reply.type === 'refused' ? hub.refused(reply) : '');
    return reply;
  }

  async function changeKey() {
    setChanging(true);
    const { data, message: why } = await ask(secret, '/key', { method: 'POST' });
    if (data) onKey(data.key);
    setMessage(data ? keeping.newKeyIs(data.key) : why);
    setChanging(false);
    onTake();
  }

  async function onResults() {
    const { message: why } = await saveResults(secret, code);
    setMessage(why ? common.noResults : '');
  }

  async function onFollow(steered) {
    const { data, message: why } = await followGame(secret, code, steered);
    if (data) onGame(data.code);
    else setMessage(why);
  }

  if (live.stop) return html`<${Closed} stop=${live.stop} ...${{ onTake, onWrongKey, onUnknown }} />`;
  if (!live.state?.host) return html`<${Connecting} />`;
  const planning = {
    onEdit: (action, fields) => live.command({ type: 'do', action, ...fields }),
    onQuestions: (round) => askQuestions(secret, code, round),
    onPaper: (want) => savePaper(secret, code, want),
    onSaveSet: (name) => saveSet(secret, code, name),
    onLoadSet: (file) => loadSet(secret, code, file),
  };

  return html`<${Console} state=${live.state} link=${live.link} message=${message}
    onDo=${onDo} onHub=${(method, address, body) => ask(secret, address, { method, body })} onBackUp=${() => saveFile(secret, '/backup')}
    onKey=${changeKey} onResults=${onResults} onCount=${(season) => countGame(secret, season, code)} onFollow=${onFollow} onHostCode=${() => askHostCode(secret, code)} onDismiss=${() => setMessage('')} ...${planning} />`;
}

// useHello takes over from the second attempt on: after a lost connection the
// hub may not yet know that this console's old socket is dead.
function useHello(key, takeOver) {
  const hello = useCallback(startHello(key, takeOver > 0), [key, takeOver]);
  return key ? hello : null;
}

function startHello(key, takeOver) {
  let own = takeOver;
  return (seen) => {
    const frame = { type: 'host', key, takeOver: own, ...(seen && { seen }) };
    own = true;
    return frame;
  };
}

function Closed({ stop, onTake, onWrongKey, onUnknown }) {
  if (wrongKey.includes(stop.code)) return html`<${Stopped} title=${host.title} text=${stops[4104]} action=${common.tryAgain} onAction=${onWrongKey} />`;
  if (unknownCode.includes(stop.code)) return html`<${Stopped} title=${host.title} text=${stops[4100]} action=${host.newGame} onAction=${onUnknown} />`;
  if (present.includes(stop.code)) return html`<${Present} onTake=${onTake} />`;
  if (stop.code === replaced) return html`<${TakenOver} onTake=${onTake} />`;
  return html`<${Stopped} title=${host.title} text=${whyStopped(stop)} action=${common.tryAgain} onAction=${onTake} />`;
}

learnNames().then(() => render(html`<${Host} />`, document.getElementById('page')));
