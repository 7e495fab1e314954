// useLive ties a page to the socket: what the hub sent last, and how the link is.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { connect } from './protocol.mjs';
import { speak } from './species.mjs';
import { hub } from '../words/common.mjs';

const nothing = { link: 'connecting', welcome: null, state: null, you: null, stop: null };

// useLive connects while hello is a function; a new hello makes a new connection.
export function useLive(code, hello) {
  const [live, setLive] = useState(nothing);
  const connection = useRef(null);

  useEffect(() => {
    setLive(nothing);
    if (!code || !hello) return undefined;
    const set = (name) => (value) => setLive((old) => ({ ...old, [name]: value }));
    const show = (state) => {
      speak(state.language);
      set('state')(state);
    };
    const on = { welcome: set('welcome'), state: show, you: set('you'), link: set('link'), stop: set('stop') };
    connection.current = connect({ code, hello, on });
    return () => connection.current.close();
  }, [code, hello]);

  return { ...live, command: (fields) => connection.current.command(fields) };
}

// useCommands holds what the team has sent for this question, and what the hub refused.
export function useCommands(live) {
  const question = live.state?.question?.id ?? null;
  const phase = live.state?.phase;
  const [pending, setPending] = useState(null);
  const [message, setMessage] = useState('');
  const paused = live.state?.paused;
  useEffect(() => setPending(null), [question, phase]);
  useEffect(() => setMessage(''), [question, phase, paused]);

  async function send(what, fields) {
    setPending(what);
    setMessage('');
    const reply = await live.command({ ...fields, question });
    const waits = what.kind === 'buzz' && reply.type === 'done'; // for who gets the buzz
    if (!waits) setPending((now) => (now === what ? null : now));
    if (reply.type === 'refused') setMessage(hub.refused(reply));
  }

  return {
    pending,
    message,
    onAnswer: (option) => send({ kind: 'answer', option }, { type: 'answer', option }),
    onType: (text) => send({ kind: 'answer' }, { type: 'answer', text }),
    onStation: (question, option) => live.command({ type: 'answer', question, option }),
    onBuzz: (at) => send({ kind: 'buzz' }, { type: 'buzz', at }),
  };
}

// A page that stays with its teams: when its game has ended and names the next
// one, it goes there by itself.

// Following shows Page for a game, and for the one that follows it. Nothing is
// reloaded: a browser that keeps nothing would lose the team's token.
export function Following({ page: Page, code: first }) {
  const [code, setCode] = useState(first);

  function onNext(next) {
    const address = new URL(location.href);
    address.searchParams.set('game', next);
    history.replaceState(null, '', address);
    setCode(next);
  }

  return html`<${Page} key=${code} code=${code} onNext=${onNext} />`;
}

// useNext tells the page of the next game once there is one.
export function useNext(state, onNext) {
  const next = state?.next;
  useEffect(() => { if (next) onNext(next); }, [next]);
}
