// Practice alone: loads a roster's questions once, then asks by what is
// remembered. Everything stays on the device.

import { html, render, useEffect, useMemo, useRef, useState } from '../vendor/preact-htm.mjs';
import { Dialog } from '../parts/dialog.mjs';
import { language } from '../lib/language.mjs';
import { Connecting } from '../parts/parts.mjs';
import { choice, isSaved, load, progress, remembers, worksOffline } from './data.mjs';
import { answered, byFact, dueAt, next, overview, speciesOf, standing } from './memory.mjs';
import { Asking, CannotLoad, Overview, Resting } from './screens.mjs';
import { learn, named, speak } from '../lib/species.mjs';
import { common } from '../words/common.mjs';
import { practice } from '../words/practice.mjs';

function Practice() {
  const [chosen, setChosen] = useState(choice.read);
  const [got, setGot] = useState(null); // {exercise} or {problem}
  const [tries, setTries] = useState(0);
  const [offline, setOffline] = useState(false);

  useEffect(() => {
    let current = true;
    setGot(null);
    load(chosen.roster).then((g) => {
      learn(g.exercise?.translations);
      speak(g.exercise?.language);
      if (current) setGot(g);
    });
    return () => { current = false; };
  }, [chosen.roster, tries]);
  useEffect(() => { worksOffline().then(setOffline); }, []);

  const choose = (fields) => {
    const changed = { ...chosen, ...fields };
    choice.write(changed);
    setChosen(changed);
  };
  if (!got) return html`<${Connecting} />`;
  if (got.problem) {
    return html`<${CannotLoad} problem=${got.problem} usual=${chosen.roster === ''}
      onAgain=${() => setTries(tries + 1)} onUsual=${() => choose({ roster: '' })} />`;
  }
  return html`<${Exercise} exercise=${got.exercise} subjects=${chosen.subjects} offline=${offline} onChoose=${choose} />`;
}

function Exercise({ exercise, subjects, offline, onChoose }) {
  const [memory, setMemory] = useState(() => progress.read(Date.now()));
  const [resetting, setResetting] = useState(false);
  const [sitting, setSitting] = useState(null); // {right, of, n, ahead, at, told}: at is the question's number
  const asked = useRef(new Map()); // by question: which answer of all was the last one to it
  const offered = Object.keys(common.subjects).filter((s) => exercise.questions.some((q) => q.subject === s));
  const chosen = offered.filter((s) => !subjects || subjects.includes(s));
  const index = useMemo(() => byFact(exercise.questions, chosen), [exercise, chosen.join()]);

  function ask(so) {
    const at = next({ memory, index, now: Date.now(), ahead: so.ahead, asked: (i) => asked.current.get(i) ?? -1 });
    setSitting({ ...so, at, n: so.n + 1, told: null });
  }

  function pick(option) {
    const { facts, key } = exercise.questions[sitting.at];
    const right = option === key;
    const now = Date.now();
    const changed = progress.change((m) => answered(m, facts, right, now), now);
    const span = Math.min(...facts.map((f) => dueAt(changed.facts[f]))) - now;
    asked.current.set(sitting.at, changed.answers);
    setMemory(changed);
    setSitting({ ...sitting, of: sitting.of + 1, right: sitting.right + (right ? 1 : 0), told: { option, right, span } });
  }

  const stop = () => setSitting(null);
  if (sitting?.at >= 0) {
    const asked = exercise.questions[sitting.at];
    const question = { ...asked, plates: asked.plates?.map((place) => exercise.plates[place]) };
    return html`<${Asking} key=${sitting.n} question=${question} plate=${exercise.plates[question.plate]} told=${sitting.told} sitting=${sitting}
      onPick=${pick} onNext=${() => ask(sitting)} onStop=${stop} />`;
  }
  const facts = [...index.keys()];
  const now = Date.now();
  const count = overview(memory, facts, now);
  if (sitting) {
    return html`<${Resting} span=${count.nextAt - now} sitting=${sitting} onAhead=${() => ask({ ...sitting, ahead: true })} onStop=${stop} />`;
  }
  const nameOf = (fact) => named(exercise.names[speciesOf(fact)] ?? practice.terms);
  return html`
    <${Overview} roster=${exercise.roster} rosters=${isSaved ? [exercise.roster] : exercise.rosters} subjects=${offered} chosen=${chosen}
      count=${count} lines=${standing(memory, facts, nameOf, now)} kept=${remembers} offline=${offline}
      saveAt=${isSaved ? '' : `/practice/save?roster=${encodeURIComponent(exercise.roster)}${language === 'en' ? '' : `&lang=${language}`}`}
      onRoster=${(roster) => onChoose({ roster })} onSubjects=${(s) => onChoose({ subjects: s })}
      onStart=${(ahead) => ask({ right: 0, of: 0, n: 0, ahead })} onReset=${() => setResetting(true)} />
    ${resetting && html`<${Dialog} ...${practice.confirmReset} go=${() => setMemory(progress.forget())} onClose=${() => setResetting(false)} />`}`;
}

render(html`<${Practice} />`, document.getElementById('page'));
