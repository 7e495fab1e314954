// The team's page: a name, then the game; it comes back by itself.

import { html, render, useCallback, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Following, useCommands, useLive, useNext } from '../lib/live.mjs';
import { CodeForm, Connecting, Stopped, gameInAddress, whyStopped } from '../parts/parts.mjs';
import { newID } from '../lib/codes.mjs';
import { badToken, removed, replaced, unknownCode } from '../lib/protocol.mjs';
import { Freed, SideForm, useSeats } from './seats.mjs';
import { lasting } from '../lib/storage.mjs';
import { NameForm, Removed, Replaced, TeamScreen, useSettled } from './screens.mjs';
import { common, joining, stops } from '../words/common.mjs';

const askNameAgain = [badToken, 'name_taken', 'name_refused', 'bad_name', 'bad_token', 'not_a_side'];

const tokenKey = (code) => `fieldsign.team.${code}`;

// useSeat is a team's place in a game: by its token once it has one.
function useSeat(code) {
  const resume = useCallback(() => ({ type: 'resume', token: lasting.get(tokenKey(code)) }), [code]);
  const [hello, setHello] = useState(() => (lasting.get(tokenKey(code)) ? resume : null));
  return {
    hello,
    // The phone draws its token, so that a join whose answer is lost can be repeated.
    join(name) {
      const token = newID();
      setHello(() => () => (lasting.get(tokenKey(code)) ? resume() : { type: 'join', name, token }));
    },
    keep: (token) => lasting.set(tokenKey(code), token),
    again: () => setHello(() => (lasting.get(tokenKey(code)) ? () => resume() : null)),
    leave() {
      lasting.drop(tokenKey(code));
      setHello(null);
    },
  };
}

function Team({ code, onNext }) {
  const seat = useSeat(code);
  const live = useLive(code, seat.hello);
  const commands = useCommands(live);
  const settled = useSettled(Boolean(live.welcome));
  useNext(live.state, (next) => {
    lasting.set(tokenKey(next), lasting.get(tokenKey(code))); // which is the team's there, too
    onNext(next);
  });
  const [problem, setProblem] = useState(null); // why the hub did not take the name
  const [out, setOut] = useState(false);
  const tried = useRef(); // the name that was typed last
  const [seats, look] = useSeats(code, !seat.hello);

  useEffect(() => {
    if (live.welcome?.token) seat.keep(live.welcome.token);
  }, [live.welcome]);

  useEffect(() => {
    const code = live.stop?.code;
    if (code === removed) setOut(true);
    if (askNameAgain.includes(code)) setProblem(live.stop);
    if (code === removed || askNameAgain.includes(code)) seat.leave();
  }, [live.stop]);

  function join(name) {
    tried.current = name;
    seat.join(name);
  }

  // Others may have come and gone meanwhile.
  function lookAgain() {
    setProblem(null);
    setOut(false);
    look();
  }

  if (!seat.hello && !seats) return html`<${Connecting} />`;
  if (out) return html`<${seats?.length > 0 ? Freed : Removed} onAgain=${lookAgain} />`;
  if (!seat.hello && seats.length > 0) return html`<${SideForm} seats=${seats} stop=${problem} onName=${seat.join} onLook=${lookAgain} />`;
  if (!seat.hello) return html`<${NameForm} key=${problem} message=${problem ? whyStopped(problem) : ''} suggestion=${tried.current} onName=${join} />`;
  if (live.stop) return html`<${Closed} stop=${live.stop} onAgain=${seat.again} />`;
  if (!live.state || !live.you || !settled) return html`<${Connecting} />`;
  return html`<${TeamScreen} ...${live} ...${commands} />`;
}

function Closed({ stop, onAgain }) {
  if (unknownCode.includes(stop.code)) return html`<${AskCode} message=${stops[4100]} />`;
  if (stop.code === replaced) return html`<${Replaced} onAgain=${onAgain} />`;
  return html`<${Stopped} title=${common.name} text=${whyStopped(stop)} action=${common.tryAgain} onAction=${onAgain} />`;
}

function AskCode({ message }) {
  return html`
    <main class="sheet">
      <h1>${joining.join}</h1>
      <${CodeForm} message=${message} go=${(code) => location.assign(`/team?game=${encodeURIComponent(code)}`)} />
    </main>`;
}

const code = gameInAddress();
render(code ? html`<${Following} page=${Team} code=${code} />` : html`<${AskCode} />`, document.getElementById('page'));
