// A match on a team's phone. It comes after the page's first load.

import { html, useCallback, useEffect, useState } from '../vendor/preact-htm.mjs';
import { useCommands, useLive } from '../lib/live.mjs';
import { removed, replaced, unknownCode } from '../lib/protocol.mjs';
import { Connecting, Stopped, whyStopped } from '../parts/parts.mjs';
import { Replaced, TeamScreen, useSettled } from '../team/screens.mjs';
import { called } from '../words/called.mjs';
import { common } from '../words/common.mjs';

// Match is the game of a match. A phone that was known when it began, and one that
// comes late, join it alike.
export function Match({ code, name, token, onOver, onFreed }) {
  const [again, setAgain] = useState(0);
  const hello = useCallback(() => ({ type: 'join', name, token }), [again]);
  const live = useLive(code, hello);
  const commands = useCommands(live);
  const settled = useSettled(Boolean(live.welcome));
  const over = live.state?.phase === 'ended' || unknownCode.includes(live.stop?.code);
  useEffect(() => { if (over) onOver(); }, [over]);
  useEffect(() => { if (live.stop?.code === removed) onFreed(); }, [live.stop]);

  const lookAgain = () => setAgain(again + 1);
  if (live.stop?.code === replaced) return html`<${Replaced} onAgain=${lookAgain} />`;
  if (live.stop?.code === 'name_taken') return html`<${Stopped} title=${name} text=${called.seatTaken} action=${called.lookAgain} onAction=${lookAgain} />`;
  if (live.stop && !over) return html`<${Stopped} title=${name} text=${whyStopped(live.stop)} action=${common.tryAgain} onAction=${lookAgain} />`;
  if (!live.state || !live.you || !settled) return html`<${Connecting} />`;
  return html`<${TeamScreen} ...${live} ...${commands} />`;
}
