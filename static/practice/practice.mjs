// Practice alone: loads a roster's questions once, then asks by what is
// remembered. Everything stays on the device.

import { html, render, useEffect, useMemo, useRef, useState } from '../vendor/preact-htm.mjs';
import { Dialog } from '../parts/dialog.mjs';
import { language } from '../lib/language.mjs';
import { forgetMissed, missed, withMissed } from '../lib/missed.mjs';
import { Connecting } from '../parts/parts.mjs';
import { choice, isSaved, load, progress, remembers, worksOffline } from './data.mjs';
import { answered, byFact, dueAt, next, overview, speciesOf, standing } from './memory.mjs';
import { Asking, CannotLoad, Overview, Resting, Summary } from './screens.mjs';
import { learn, named, speak } from '../lib/species.mjs';
import { common } from '../words/common.mjs';
import { practice } from '../words/practice.mjs';

const sittingOf = 10; // answers, after which there is a summary

// again are the questions that this phone missed in a game, to be gone over.
const again = missed(new URLSearchParams(location.hash.slice(1)).get('game') ?? '');

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

// lessonOf is what an answer teaches, with its drawings; null where it is about no animal.
function lessonOf(exercise, question, option) {
  const found = exercise.lessons?.[question.lessons?.[option]];
  if (!found) return null;
  const sides = found.sides.map((s) => ({ ...s, plate: '', svg: s.svg ?? exercise.plates[s.plate]?.svg, plateAlt: s.plateAlt ?? exercise.plates[s.plate]?.alt }));
  return { ...found, sides };
}

// answerOf is the key in words, of drawings the animal's name.
function answerOf(exercise, at) {
  const q = exercise.questions[at];
  return q.plates?.length > 0 ? exercise.lessons?.[q.lessons?.[q.key]]?.sides[0].animal ?? q.options[q.key] : q.options[q.key];
}

function Exercise({ exercise: own, subjects, offline, onChoose }) {
  const [memory, setMemory] = useState(() => progress.read(Date.now()));
  const [resetting, setResetting] = useState(false);
  const [sitting, setSitting] = useState(null); // {right, of, n, ahead, at, told}: at is the question's number
  const asked = useRef(new Map()); // by question: which answer of all was the last one to it
  const exercise = useMemo(() => withMissed(own, again), [own]);
  const offered = Object.keys(common.subjects).filter((s) => own.questions.some((q) => q.subject === s));
  const chosen = offered.filter((s) => !subjects || subjects.includes(s));
  const index = useMemo(() => byFact(own.questions, chosen), [own, chosen.join()]);

  const nameOf = (fact) => named(exercise.names[speciesOf(fact)] ?? practice.terms);

  function ask(so) {
    const at = so.over ? own.questions.length + so.n : next({ memory, index, groupOf: nameOf, now: Date.now(), ahead: so.ahead, asked: (i) => asked.current.get(i) ?? -1 });
    setSitting({ ...so, at, n: so.n + 1, told: null });
  }

  function pick(option) {
    const { facts, key } = exercise.questions[sitting.at];
    const right = option === key;
    const now = Date.now();
    const changed = progress.change((m) => answered(m, facts, right, now), now);
    const span = facts.length > 0 ? Math.min(...facts.map((f) => dueAt(changed.facts[f]))) - now : 0;
    asked.current.set(sitting.at, changed.answers);
    setMemory(changed);
    const wrong = right ? sitting.wrong : [...sitting.wrong, { prompt: exercise.questions[sitting.at].prompt, key: answerOf(exercise, sitting.at) }];
    setSitting({ ...sitting, of: sitting.of + 1, right: sitting.right + (right ? 1 : 0), wrong, told: { option, right, span } });
  }

  function forget() {
    forgetMissed();
    again.splice(0);
    setMemory(progress.forget());
  }

  const stop = () => setSitting(null);
  const begin = (ahead, over) => ask({ right: 0, of: 0, n: 0, wrong: [], ahead, over, length: over ? again.length : sittingOf });
  if (sitting?.at >= 0 && sitting.of >= sitting.length && !sitting.told) {
    return html`<${Summary} sitting=${sitting} onMore=${() => begin(sitting.ahead)} onStop=${stop} />`;
  }
  if (sitting?.at >= 0) {
    const asked = exercise.questions[sitting.at];
    const question = { ...asked, plates: asked.plates?.map((place) => exercise.plates[place]) };
    return html`<${Asking} key=${sitting.n} question=${question} plate=${exercise.plates[question.plate]} told=${sitting.told} sitting=${sitting}
      lesson=${sitting.told && lessonOf(exercise, asked, sitting.told.option)}
      onPick=${pick} onNext=${() => ask(sitting)} onStop=${stop} />`;
  }
  const facts = [...index.keys()];
  const now = Date.now();
  const count = overview(memory, facts, now);
  if (sitting) {
    return html`<${Resting} span=${count.nextAt - now} sitting=${sitting} onAhead=${() => begin(true)} onStop=${stop} />`;
  }
  return html`
    <${Overview} roster=${exercise.roster} rosters=${isSaved ? [exercise.roster] : exercise.rosters} titles=${exercise.titles} subjects=${offered} chosen=${chosen}
      count=${count} lines=${standing(memory, facts, nameOf, now)} kept=${remembers} offline=${offline}
      saveAt=${isSaved ? '' : `/practice/save?roster=${encodeURIComponent(exercise.roster)}${language === 'en' ? '' : `&lang=${language}`}`}
      onRoster=${(roster) => onChoose({ roster })} onSubjects=${(s) => onChoose({ subjects: s })}
      missed=${again.length} onMissed=${() => begin(true, true)} onStart=${(ahead) => begin(ahead)} onReset=${() => setResetting(true)} />
    ${resetting && html`<${Dialog} ...${practice.confirmReset} go=${forget} onClose=${() => setResetting(false)} />`}`;
}

render(html`<${Practice} />`, document.getElementById('page'));
