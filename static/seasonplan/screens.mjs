// What the page of a season's plan shows: the next meeting first, then how much
// is likely known on the day, then all meetings, then what was asked for.

import { html, useState } from '../vendor/preact-htm.mjs';
import { paperSizes, usualPaper } from '../parts/fields.mjs';
import { Heading, Message } from '../parts/parts.mjs';
import { Table } from '../parts/table.mjs';
import { named } from '../lib/species.mjs';
import { common } from '../words/common.mjs';
import { seasonPlan as words } from '../words/season-plan.mjs';
import { WishForm } from './form.mjs';

export function SeasonPlan({ view, rosters, today, message = '', onMake, onOpen, onSave, onPaper, onPrint }) {
  const { plan, season } = view;
  return html`
    <main class="report season-plan">
      <header>
        <${Heading}>${season && view.wish ? words.heading(season) : words.title}<//>
        ${plan ? html`<p class="acts">
          <button type="button" onClick=${onSave}>${words.calendar}</button>
          <button type="button" onClick=${onPrint}>${words.print}</button>
          <a href=${`/season?season=${encodeURIComponent(season)}`}>${words.table}</a>
        </p>` : html`<p class="lead">${words.lead}</p>`}
        <${Message} text=${message || view.trouble} />
      </header>
      ${plan && html`
        <${Next} plan=${plan} onOpen=${onOpen} />
        <${Known} plan=${plan} contest=${view.wish.contest} />
        <${Left} plan=${plan} />
        <${Meetings} plan=${plan} onPaper=${onPaper} />`}
      <section class="acts">
        <h2>${words.wish}</h2>
        ${plan ? html`<details><summary>${words.change}</summary><${WishForm} view=${view} rosters=${rosters} today=${today} onMake=${onMake} /></details>`
      : html`<${WishForm} view=${view} rosters=${rosters} today=${today} onMake=${onMake} />`}
      </section>
    </main>`;
}

// called are items by subject, each with its animals' names.
const bySubject = (items) => Object.keys(common.subjects).map((s) => [s, items.filter((i) => i.subject === s)]).filter(([, list]) => list.length > 0);

function Items({ title, items, names, hint = '' }) {
  if (items.length === 0) return null;
  return html`
    <div class="agenda">
      <h3>${words.counted(title, items.length)}</h3>
      ${hint && html`<p class="hint">${hint}</p>`}
      <dl>${bySubject(items).map(([subject, list]) => html`<dt>${common.subjects[subject]}</dt><dd>${list.map((i) => named(names[i.animal])).join(', ')}</dd>`)}</dl>
    </div>`;
}

function Next({ plan, onOpen }) {
  const meeting = plan.meetings.find((m) => m.state === 'next');
  if (!meeting) return html`<section><h2>${words.over}</h2></section>`;
  const { agenda } = meeting;
  return html`
    <section class="next">
      <h2>${words.next(meeting.date)}</h2>
      <p>${words.length(meeting.time, meeting.minutes)}</p>
      <p class="acts"><button type="button" class="main" onClick=${() => onOpen(meeting.date)}>${meeting.game ? words.again : words.open}</button></p>
      <p class="hint acts">${words.openHint}</p>
      <${Items} title=${words.fresh} items=${agenda.new} names=${plan.names} hint=${words.freshHint} />
      <${Items} title=${words.review} items=${agenda.review} names=${plan.names} />
      <${Items} title=${words.extra} items=${agenda.extra} names=${plan.names} />
      ${agenda.pairs.length > 0 && html`
        <div class="agenda"><h3>${words.counted(words.pairs, agenda.pairs.length)}</h3>
          <ul>${agenda.pairs.slice(0, 6).map((p) => html`<li>${words.pair(named(plan.names[p.a]), named(plan.names[p.b]), common.subjects[p.subject])}</li>`)}</ul>
        </div>`}
    </section>`;
}

function Left({ plan }) {
  if (plan.left.length === 0) return html`<p class="note">${words.allFits(plan.topics)}</p>`;
  return html`
    <section class="left">
      <h2>${words.left(plan.left.length, plan.topics)}</h2>
      <p>${words.takes(plan.lacking, plan.more)}</p>
      <details><summary>${words.leftOut}</summary><${Items} title=${words.leftOut} items=${plan.left} names=${plan.names} /></details>
    </section>`;
}

const mostBars = 8; // of animals, the least known first; the table has them all

function Known({ plan, contest }) {
  if (!plan.meetings.some((m) => m.of > 0)) return html`<section class="known"><h2>${words.known(contest)}</h2><p>${words.nothingYet}</p></section>`;
  const { all, subjects, animals } = plan.known;
  const lines = [
    { ...all, called: words.all },
    ...subjects.map((s) => ({ ...s, called: common.subjects[s.name] })),
    ...animals.map((s) => ({ ...s, called: named(plan.names[s.name]) })),
  ];
  return html`
    <section class="known">
      <h2>${words.known(contest)}</h2>
      <ul class="bars" aria-hidden="true">${lines.slice(0, 1 + subjects.length + mostBars).map((l) => html`<${Bar} key=${l.called} line=${l} />`)}</ul>
      <p class="hint">${words.doubt}</p>
      <details>
        <summary>${words.asTable}</summary>
        <${Table} caption=${words.knownCaption} columns=${words.knownColumns} rows=${lines.map((l) => [l.called, words.percent(l.p), words.range(l)])} />
      </details>
    </section>`;
}

// Bar is a share as a bar, and its doubt as a line with ends across it.
function Bar({ line: { called, p, low, high } }) {
  return html`
    <li>
      <span class="what">${called}</span>
      <svg class="bar-of doubt" viewBox="0 0 100 10" preserveAspectRatio="none">
        <rect class="trough" width="100" height="10" /><rect class="dark" width=${100 * p} height="10" />
        <path d=${`M${100 * low} 5H${100 * high}M${100 * low} 1V9M${100 * high} 1V9`} />
      </svg>
      <span class="n">${words.percent(p)} <span class="aside">${words.range({ low, high })}</span></span>
    </li>`;
}

// Papers are what a meeting to come is printed as; where nothing is new there is no sheet.
function Papers({ meeting: { date, agenda }, onPaper }) {
  if (!agenda) return '';
  return html`<span class="papers">${Object.entries(words.papers).filter(([kind]) => kind !== 'study' || agenda.new.length > 0).map(([kind, what]) => html`
    <button type="button" aria-label=${words.paperOf(what, date)} onClick=${() => onPaper(date, kind)}>${what}</button>`)}</span>`;
}

function Meetings({ plan, onPaper }) {
  const [size, setSize] = useState(usualPaper);
  const about = (m) => (m.agenda ? words.about(m.agenda) : m.of > 0 ? words.shown(m.right, m.of) : '–');
  const rows = plan.meetings.map((m) => [words.day(m.date), words.length(m.time, m.minutes), words.states[m.state], html`<${Strip} meeting=${m} /> ${about(m)}`,
    html`<${Papers} meeting=${m} onPaper=${(date, kind) => onPaper(date, kind, size)} />`,
    m.game ? html`<a href=${m.state === 'held' ? `/debrief?game=${encodeURIComponent(m.game)}` : `/host?game=${encodeURIComponent(m.game)}`}>${m.state === 'held' ? words.debrief : words.again}</a>` : '']);
  return html`
    <section class="meetings">
      <h2>${words.meetings}</h2>
      <div class="acts">
        <p class="hint">${words.papersHint}</p>
        <label>${words.paperSize} <select id="paper-size" value=${size} onChange=${(e) => setSize(e.target.value)}>${paperSizes.map(([value, name]) => html`<option value=${value}>${name}</option>`)}</select></label>
      </div>
      <p class="hint">${Object.entries(words.strip).map(([kind, what]) => html`<span class="swatched" key=${kind}><svg class="strip-of one" viewBox="0 0 10 10" aria-hidden="true"><rect class=${kind} width="10" height="10" /></svg>${what}</span> `)}</p>
      <${Table} caption=${words.meetingsCaption} columns=${words.columns} rows=${rows} />
    </section>`;
}

// Strip shows how a meeting's minutes are spent.
function Strip({ meeting: { agenda, minutes } }) {
  if (!agenda) return null;
  const spare = agenda.spare / (60 * minutes);
  const weight = 3 * agenda.new.length + agenda.review.length + agenda.extra.length || 1;
  const parts = [['dark', 3 * agenda.new.length], ['mid', agenda.review.length], ['light', agenda.extra.length]];
  let x = 0;
  return html`
    <svg class="strip-of" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
      <rect class="trough" width="100" height="10" />
      ${parts.map(([kind, n]) => {
        const width = 100 * (1 - spare) * n / weight;
        x += width;
        return html`<rect class=${kind} x=${x - width} width=${width} height="10" />`;
      })}
    </svg>`;
}
