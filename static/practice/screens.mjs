// The screens of practice alone. They draw what they are handed.

import { html, useEffect, useRef } from '../vendor/preact-htm.mjs';
import { Enlarged } from '../parts/enlarge.mjs';
import { Because, Lesson, keyMark, teaches } from '../parts/lesson.mjs';
import { Heading, Languages, Options, Sign, Told } from '../parts/parts.mjs';
import { named, tongue } from '../lib/species.mjs';
import { Choice, Subjects } from '../parts/fields.mjs';
import { common } from '../words/common.mjs';
import { practice } from '../words/practice.mjs';

// Overview is where a sitting starts: what to practise, what is due, what is known.
export function Overview({ roster, rosters, titles = {}, subjects, chosen, count, lines, kept, offline, saveAt, missed = 0, onMissed, onRoster, onSubjects, onStart, onReset }) {
  const open = count.due + count.fresh > 0;
  return html`
    <main class="sheet">
      <${Heading}>${practice.title}<//>
      <p>${practice.lead}</p>
      ${missed > 0 && html`<button type="button" class="main" onClick=${onMissed}>${practice.goOver(missed)}</button>`}
      ${rosters.length > 1
        ? html`<${Choice} id="roster" label=${practice.roster} value=${roster} choices=${rosters.map((r) => [r, titles[r] ?? r])} onValue=${onRoster} />`
        : html`<p>${practice.rosterIs(titles[roster] ?? roster)}</p>`}
      <${Subjects} id="subjects" offered=${subjects} chosen=${chosen} onValue=${onSubjects} />
      <p role="status"><b>${chosen.length ? practice.now(count.due, count.fresh, count.resting) : practice.noSubject}</b></p>
      <button type="button" class="main" disabled=${chosen.length === 0} onClick=${() => onStart(!open)}>${open || chosen.length === 0 ? practice.start : practice.ahead}</button>
      <p class=${kept ? 'hint' : 'note'}>${kept ? practice.kept : practice.notKept}</p>
      ${offline && html`<p class="note">${practice.offline}</p>`}
      <${Standing} lines=${lines} />
      <section>
        ${saveAt && html`<div><a class="save" href=${saveAt} download>${practice.save}</a><p class="hint">${practice.saveHint}</p></div>`}
        <button type="button" onClick=${onReset}>${practice.reset}</button>
        ${saveAt && html`<p><a class="save" href="/">${common.toStart}</a></p>`}
      </section>
      <${Languages} />
    </main>`;
}

function Standing({ lines }) {
  return html`
    <section>
      <h2>${practice.known}</h2>
      ${lines.length === 0 ? html`<p>${practice.noneYet}</p>` : html`
        <table class="leaders">
          <caption>${practice.weakFirst}</caption>
          <thead><tr>
            <th scope="col">${practice.animal}</th><th scope="col">${practice.facts}</th>
            <th scope="col" class="number">${practice.due}</th><th scope="col">${practice.memory}</th>
          </tr></thead>
          <tbody>
            ${lines.map((l) => html`<tr key=${l.name}>
              <th scope="row">${l.name}</th><td>${practice.factsOf(l.asked, l.facts)}</td>
              <td class="number">${l.due}</td><td>${practice.level(practice.levels[l.level], practice.span(l.span))}</td>
            </tr>`)}
          </tbody>
        </table>
        <p class="hint">${practice.levelHint}</p>`}
    </section>`;
}

// Asking shows a question, and with told ({option, right, span}) what became of it.
export function Asking({ question, plate, told, sitting, lesson, onPick, onNext, onStop }) {
  const verdict = useRef(null);
  const go = useRef(null);
  useLetters(question.options.length, told ? null : onPick);
  useEffect(() => scrollTo(0, 0), []);
  useEffect(() => {
    if (!told) return;
    go.current.focus({ preventScroll: true });
    verdict.current.scrollIntoView({ block: 'nearest' });
  }, [told]);
  const own = told && { option: told.option, label: practice.yours };
  return html`
    <main class="sheet">
      <div class="sitting">
        <p class="where">${practice.place(Math.min(sitting.of + (told ? 0 : 1), sitting.length), sitting.length, sitting.right)}</p>
        <button type="button" onClick=${onStop}>${practice.stop}</button>
      </div>
      <${Heading}><${Told} text=${question.prompt} /><//>
      ${plate && !(told && teaches(lesson)) && html`<${Enlarged} plate=${plate} />`}
      <${Options} question=${question} choose=${true} onPick=${told ? undefined : onPick}
        mark=${told ? keyMark(question.key, own) : undefined} />
      <div class="told" role="status" ref=${verdict}>
        ${told && html`
          <p class="title"><${Sign} kind=${told.right ? 'right' : 'wrong'} /> ${practice.verdict(told.right)}</p>
          ${teaches(lesson) && html`<${Lesson} lesson=${lesson} />`}
          <${Because} reason=${question.reason} />
          ${(!told.right || told.span > 0) && html`<p>${told.right ? practice.again(practice.span(told.span)) : practice.againSoon}</p>`}`}
      </div>
      ${told
        ? html`<div class="reach"><button type="button" class="main" ref=${go} onClick=${onNext}>${practice.next}</button></div>`
        : html`<p class="hint">${practice.pick}</p>`}
    </main>`;
}

// useLetters lets a keyboard answer by the rows' letters.
function useLetters(rows, onPick) {
  useEffect(() => {
    if (!onPick) return undefined;
    const press = (event) => {
      const row = common.letters.indexOf(event.key.toUpperCase());
      if (event.key.length !== 1 || row < 0 || row >= rows || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      onPick(row);
    };
    addEventListener('keydown', press);
    return () => removeEventListener('keydown', press);
  });
}

// Summary ends a sitting: what was right, and what to look at again.
export function Summary({ sitting, onMore, onStop }) {
  return html`
    <main class="sheet">
      <${Heading}>${practice.summary(sitting.right, sitting.of)}<//>
      ${sitting.wrong.length === 0 ? html`<p>${practice.allRight}</p>` : html`
        <section>
          <h2>${practice.lookAgain}</h2>
          <ul class="missed">${sitting.wrong.map((w, i) => html`<li key=${i}><p lang=${tongue(w.prompt)}>${w.prompt}</p><p lang=${tongue(w.key)}><${Sign} kind="right" /> <b>${named(w.key)}</b></p></li>`)}</ul>
        </section>`}
      <p class="hint">${practice.comesBack}</p>
      <div class="pair">
        <button type="button" onClick=${onStop}>${practice.stop}</button>
        <button type="button" class="main" onClick=${onMore}>${practice.more}</button>
      </div>
    </main>`;
}

// Resting is shown when nothing is due.
export function Resting({ span, sitting, onAhead, onStop }) {
  return html`
    <main class="sheet">
      <${Heading}>${practice.done}<//>
      <p>${practice.sitting(sitting.right, sitting.of)}</p>
      <p>${practice.doneMore(practice.span(span))}</p>
      <div class="pair">
        <button type="button" onClick=${onAhead}>${practice.ahead}</button>
        <button type="button" class="main" onClick=${onStop}>${practice.stop}</button>
      </div>
    </main>`;
}

export function CannotLoad({ problem, usual, onAgain, onUsual }) {
  return html`
    <main class="stopped">
      <${Heading}>${practice.cannotLoad}<//>
      <p role="alert">${problem}</p>
      <button type="button" class="main" onClick=${onAgain}>${common.tryAgain}</button>
      ${!usual && html`<button type="button" onClick=${onUsual}>${practice.otherRoster}</button>`}
    </main>`;
}
