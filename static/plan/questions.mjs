// The host's look at the planned questions, with their keys: shown on demand
// and on this page alone. Each can be replaced, struck, or asked earlier or later.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Drawing, Message, Options, Told } from '../parts/parts.mjs';
import { Choice } from '../parts/fields.mjs';
import { named } from '../lib/species.mjs';
import { common, hub } from '../words/common.mjs';
import { host } from '../words/host.mjs';
import { planning } from '../words/planning.mjs';
import { station as words } from '../words/station.mjs';

// PlanQuestions: ready() resolves to whether the plan as shown is stored,
// onQuestions(round) to the hub's answer, onEdit(action, fields) to its reply.
export function PlanQuestions({ plan, changed, ready, onQuestions, onEdit, open = false }) {
  const [shown, setShown] = useState(open);
  const show = async () => setShown(await ready());
  return html`
    <section class="looking" aria-labelledby="looking">
      <h2 id="looking">${planning.title}</h2>
      <p class="note">${shown ? planning.keysShown : planning.warning}</p>
      ${shown && !changed
        ? html`
          <p><button type="button" onClick=${() => setShown(false)}>${planning.hide}</button></p>
          <${Rounds} plan=${plan} onQuestions=${onQuestions} onEdit=${onEdit} />`
        : html`<p><button type="button" onClick=${show}>${changed ? planning.saveAndShow : planning.show}</button></p>`}
    </section>`;
}

function Rounds({ plan, onQuestions, onEdit }) {
  const [chosen, setChosen] = useState(0);
  const round = Math.min(chosen, plan.rounds.length - 1);
  const list = useQuestions(round, JSON.stringify(plan), onQuestions);
  const choices = plan.rounds.map((r, i) => [String(i), r.station ? planning.roundAt(i + 1, r.name, r.station.stations) : planning.roundOf(i + 1, r.name, r.count)]);
  return html`
    ${choices.length > 1 && html`
      <${Choice} id="looking-round" label=${planning.round} value=${String(round)} choices=${choices} onValue=${(value) => setChosen(Number(value))} />`}
    ${!list && html`<p>${common.connecting}</p>`}
    <${Message} text=${list?.message && hub.refused(list)} />
    ${list?.questions && html`<${List} round=${round} list=${list} onEdit=${onEdit} />`}`;
}

// useQuestions asks anew whenever the stored plan has changed; what is there
// stays on the screen meanwhile.
function useQuestions(round, stored, onQuestions) {
  const [list, setList] = useState(null);
  useEffect(() => {
    let late = false;
    onQuestions(round).then(({ data, message }) => late || setList({ ...data, message, round }));
    return () => { late = true; };
  }, [round, stored]);
  return list?.round === round ? list : null;
}

function List({ round, list, onEdit }) {
  const { questions, plates } = list;
  const atStations = Boolean(questions[0].station); // which have each its own, in their order
  const [said, setSaid] = useState({}); // what the hub refused, and of which question
  const [heard, setHeard] = useState('');
  const focus = useRef(null); // where it goes once the new list is here
  const box = useRef(null); // busy from a press till the new list is here
  const busy = () => box.current.getAttribute('aria-busy') === 'true';
  const setBusy = (is) => box.current?.setAttribute('aria-busy', is);

  useEffect(() => {
    if (!focus.current) return;
    setBusy(false);
    const { id, place, act } = focus.current;
    focus.current = null;
    const at = id ? questions.findIndex((q) => q.id === id) : Math.min(place, questions.length - 1);
    const card = box.current.children[at];
    const button = card?.querySelector(`[data-act="${act}"]:not(:disabled)`);
    (button ?? card?.querySelector('h3'))?.focus();
  }, [list]);

  async function change(action, at, fields, after, words) {
    if (busy()) return;
    setBusy(true);
    const { id } = questions[at];
    const reply = await onEdit(action, { round, question: id, ...fields });
    const done = reply.type === 'done';
    setSaid(done ? {} : { id, text: hub.refused(reply) });
    setHeard(done ? words : '');
    focus.current = done ? after : null;
    setBusy(done);
  }

  const acts = (at) => ({
    replace: () => change('replace', at, {}, { place: at, act: 'replace' }, planning.replaced(at + 1)),
    strike: () => change('strike', at, {}, { place: at, act: 'strike' }, planning.struck(at + 1)),
    move(by) {
      const to = at + by;
      if (to < 0 || to >= questions.length) return;
      change('move', at, { to }, { id: questions[at].id, act: by < 0 ? 'earlier' : 'later' }, planning.moved(at + 1, to + 1));
    },
  });

  return html`
    <p class="hint">${atStations ? planning.hintStations : planning.hint}</p>
    <p class="heard" role="status">${heard}</p>
    <ol class="planned" ref=${box}>
      ${questions.map((q, at) => html`
        <${Card} key=${q.id} q=${q} n=${at + 1} of=${questions.length} alone=${questions.every((other) => other === q || other.station !== q.station)} plates=${plates} acts=${acts(at)} refusal=${said.id === q.id ? said.text : ''} />`)}
    </ol>`;
}

// Card: alone says that no other question is left in the round, or at its station.
function Card({ q, n, of, alone, plates, acts, refusal }) {
  const keys = (event) => {
    const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    if (!by || !event.altKey || q.station) return;
    event.preventDefault();
    acts.move(by);
  };
  const mark = (i) => (i === q.key ? { text: `${common.right} ${common.key}`, kind: 'key' } : null);
  const shown = { options: q.options, plates: q.plates?.map((i) => plates[i]) };
  const drawn = q.plate !== undefined;
  return html`
    <li class=${drawn ? 'drawn' : ''} onKeyDown=${keys}>
      <h3 tabindex="-1">${q.station && `${words.at(q.station)}: `}${planning.question(n)} <span class="hint">${planning.about(common.subjects[q.subject] ?? q.subject, q.difficulty)}</span></h3>
      <p class="prompt"><${Told} text=${q.prompt} /></p>
      ${drawn && html`<${Drawing} plate=${plates[q.plate]} />`}
      ${q.typed ? html`<p>${planning.typed}</p>` : html`<${Options} question=${shown} mark=${mark} />`}
      <p class="reason"><b>${q.typed ? planning.typedKey(named(q.options[q.key])) : host.keyIs(common.letters[q.key], named(q.options[q.key]))}.</b> <${Told} text=${q.reason} /></p>
      ${q.rests && html`<p class=${q.rests === 'memory' ? 'note' : 'hint'}>${planning.rests[q.rests]}</p>`}
      ${q.photo && html`<p class="hint">${planning.photo(q.photo)}</p>`}
      ${q.told && html`<p class="note">${planning.told(q.told)}</p>`}
      <${Message} text=${refusal} />
      <div class="acts">
        <${Act} act="replace" text=${planning.replace} label=${planning.replaceOne(n)} onClick=${acts.replace} />
        <${Act} act="strike" text=${planning.strike} label=${planning.strikeOne(n)} off=${alone} onClick=${acts.strike} />
        ${!q.station && html`
          <${Act} act="earlier" text=${planning.earlier} label=${planning.earlierOne(n)} off=${n === 1} onClick=${() => acts.move(-1)} />
          <${Act} act="later" text=${planning.later} label=${planning.laterOne(n)} off=${n === of} onClick=${() => acts.move(1)} />`}
      </div>
    </li>`;
}

function Act({ act, text, label, off = false, onClick }) {
  return html`<button type="button" data-act=${act} aria-label=${label} disabled=${off} onClick=${onClick}>${text}</button>`;
}
