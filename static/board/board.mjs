// The board's page: it only watches.

import { html, render } from '../vendor/preact-htm.mjs';
import { BoardScreen } from './screens.mjs';
import { Following, useLive, useNext } from '../lib/live.mjs';
import { CodeForm, Connecting, Stopped, gameInAddress, whyStopped } from '../parts/parts.mjs';
import { unknownCode } from '../lib/protocol.mjs';
import { learnNames } from '../lib/species.mjs';
import { board } from '../words/board.mjs';
import { common, stops } from '../words/common.mjs';

const hello = () => ({ type: 'board' });

function Board({ code, onNext }) {
  const live = useLive(code, hello);
  useNext(live.state, onNext);
  if (unknownCode.includes(live.stop?.code)) return html`<${AskCode} message=${stops[4100]} />`;
  if (live.stop) {
    return html`<${Stopped} title=${board.title} text=${whyStopped(live.stop)}
      action=${common.tryAgain} onAction=${() => location.reload()} />`;
  }
  if (!live.state) return html`<${Connecting} />`;
  return html`<${BoardScreen} ...${live} />`;
}

function AskCode({ message }) {
  return html`
    <main class="sheet">
      <h1>${board.title}</h1>
      <${CodeForm} label=${board.showCode} cup="/tournament/follow" message=${message} go=${(code) => location.assign(`/board?game=${encodeURIComponent(code)}`)} />
    </main>`;
}

const code = gameInAddress();
learnNames().then(() => render(code ? html`<${Following} page=${Board} code=${code} />` : html`<${AskCode} />`, document.getElementById('page')));
