// What the debrief shows of a game's report.

import { html } from '../vendor/preact-htm.mjs';
import { Known, Mixed, Sentences, StudySheet, drawn } from './findings.mjs';
import { HeatMap, Legend, Timeline } from './pictures.mjs';
import { CodeForm, Heading, Message, Spot, Told } from '../parts/parts.mjs';
import { Table, Wide } from '../parts/table.mjs';
import { named, tongue } from '../lib/species.mjs';
import { common, hub } from '../words/common.mjs';
import { debrief as words } from '../words/debrief.mjs';

// ChooseDebrief asks for any game, ended ones too, which only the report knows.
export function ChooseDebrief({ onCode, message = '' }) {
  return html`
    <main class="sheet">
      <${Heading}>${words.title}<//>
      <${CodeForm} label=${words.codeLabel} go=${onCode} message=${message} check=${async () => ({})} />
    </main>`;
}

export function Report({ report, message = '', onReload, onSave, onPlan, onPrint, onStudy }) {
  const none = report.share.of === 0;
  return html`
    <main class="report">
      <header>
        <${Heading}>${words.heading(report.title)}<//>
        <p class="where">${words.where(report)}</p>
        <p class="acts">
          ${!none && html`<button type="button" class="main" onClick=${onPlan}>${words.plan}</button>`}
          ${!none && html`<button type="button" onClick=${onStudy}>${words.printStudy}</button>`}
          <button type="button" onClick=${onPrint}>${words.print}</button>
          <button type="button" onClick=${onSave}>${words.save}</button>
          ${!report.ended && html`<button type="button" onClick=${onReload}>${words.reload}</button>`}
          <a href=${`/host?game=${encodeURIComponent(report.code)}`}>${words.toConsole}</a>
        </p>
        <${Message} text=${message} />
      </header>
      ${none ? html`<p class="lead">${words.nothing}</p><p class="spots"><${Spot} name="beaver-skull" /></p>` : html`<${Findings} report=${report} />`}
    </main>`;
}

function Findings({ report }) {
  const asked = report.questions.filter((q) => q.status !== 'void');
  const teams = report.teams.map((t, place) => ({ ...t, place })).sort((a, b) => b.score - a.score);
  return html`
    <${Sentences} report=${report} asked=${asked} />
    <${Mixed} pairs=${report.mixed ?? []} />
    <div class="halves">
      <${Known} topics=${report.topics} />
      <section>
        <h2>${words.heat}</h2>
        ${report.trimmed ? html`<p>${words.trimmed}</p>` : html`<${Wide} label=${words.heat}><${HeatMap} teams=${teams} questions=${asked} /><//><${Legend} />`}
      </section>
    </div>
    <${StudySheet} report=${report} asked=${asked} />
    <section class="behind">
      <${Folded} title=${words.allQuestions(report.questions.length)}><${Questions} questions=${report.questions} /><//>
      <${Folded} title=${words.eachTeam}>
        <${Teams} report=${report} />
        ${!report.trimmed && html`<${Wide} label=${words.heatCaption}><${Marks} teams=${teams} questions=${asked} /><//>`}
      <//>
      <${Folded} title=${words.taken}><${Taken} report=${report} /><${Traits} topics=${report.topics.traits} /><//>
      <${Folded} title=${words.timeline}>
        <p class="hint">${words.timelineHint}</p>
        <${Wide} label=${words.timeline}><${Timeline} questions=${asked} /><//>
      <//>
      <${Folded} title=${words.statistics}><${Statistics} report=${report} /><//>
      <p class="hint">${words.nextHint}</p>
    </section>`;
}

function Folded({ title, children }) {
  return html`<details><summary>${title}</summary><div class="folded">${children}</div></details>`;
}

function Statistics({ report: { share, test } }) {
  return html`
    <p>${words.range(share)}</p>
    ${test.teams > 0 && html`<p>${words.reliability(test)}</p><p>${words.reliabilityMeans}</p>`}
    ${test.caution && html`<p class="note">${words.caution}: ${hub.caution(test)}</p>`}
    <p>${words.discriminationHint}</p>
    <p class="hint">${words.undefined}</p>`;
}

function Marks({ teams, questions }) {
  const columns = { team: words.teamColumns.team, ...Object.fromEntries(questions.map((q, i) => [`q${i}`, i + 1])) };
  const rows = teams.map((t) => [t.name, ...questions.map((q) => words.marks[q.answers[t.place].mark])]);
  return html`<${Table} kind="plain" caption=${words.heatCaption} columns=${columns} rows=${rows} />`;
}

export function Shared({ share }) {
  if (share.of === 0) return '–';
  return html`<b>${words.percent(share.p)}</b> <span class="aside">(${words.interval(share)}), ${words.outOf(share)}</span>`;
}

function Questions({ questions }) {
  const numbers = new Map(questions.filter((q) => q.status !== 'void').map((q, i) => [q, i + 1]));
  const rows = questions.map((q) => [
    html`<b>${numbers.get(q) ?? '–'}</b> <span class="aside">(${words.number(q)})</span> <span class="prompt" lang=${tongue(q.prompt)}>${q.prompt}</span>`,
    html`<${Shared} share=${q.share} />`,
    words.decimal(q.corrected),
    html`<${Picks} q=${q} />`,
    words.seconds(q.time.median),
    [words.statuses[q.status], ...q.flags.map((f) => words.flags[f])].filter(Boolean).map((text) => html`<span class="flag">${text}</span>`),
  ]);
  return html`<${Table} kind="questions" caption=${words.questionsCaption} columns=${words.columns} rows=${rows} />`;
}

// Picks lists the options, of a typed question only those that were named.
function Picks({ q }) {
  const typed = q.options.length > common.letters.length;
  const texts = drawn.includes(q.about.template) ? q.about.species : q.options;
  const options = texts.map((text, i) => ({ text, i, n: q.picks[i] })).filter(({ i, n }) => !typed || n > 0 || i === q.key);
  const spoken = q.answered - q.picks.reduce((sum, n) => sum + n, 0);
  return html`
    <ul class="picks">
      ${options.map(({ text, i, n }) => html`
        <li key=${i} class=${i === q.key ? 'key' : ''}>
          <span class="n">${n}</span>
          <span>${i === q.key && `${common.right} `}${!typed && `${common.letters[i]} `}<span lang=${tongue(text)}>${named(text)}</span></span>
        </li>`)}
      ${spoken > 0 && html`<li class="spoken">${words.spoken(spoken)}</li>`}
    </ul>`;
}

const mostMistakes = 10;

// mistakes are the wrong cells of a matrix, the commonest first.
function mistakes({ names, counts }) {
  const found = counts.flatMap((row, k) => {
    const all = row.reduce((sum, n) => sum + n, 0);
    return row.map((n, t) => ({ key: names[k], taken: names[t], n, all, wrong: k !== t }));
  });
  return found.filter(({ n, wrong }) => wrong && n > 0).sort((a, b) => b.n - a.n);
}

function Taken({ report }) {
  const tables = report.confusions.map((m) => ({ ...m, list: mistakes(m) })).filter(({ list }) => list.length > 0);
  const { pairs } = report.advice;
  return html`
    <div>
      ${tables.length === 0 && html`<p>${words.noneTaken}</p>`}
      <div class="side">${tables.map((m) => html`<${Mistakes} key=${m.of + m.subject} ...${m} />`)}</div>
      ${pairs.length === 0 ? html`<p>${words.noPairs}</p>` : html`
        <${Table} caption=${words.pairsCaption} columns=${words.pairColumns}
          rows=${pairs.map((p) => [words.pair({ a: named(p.a), b: named(p.b) }), html`<${Shared} share=${p.share} />`, words.percent(p.expected)])} />`}
    </div>`;
}

function Mistakes({ subject, of, list }) {
  const rows = list.slice(0, mostMistakes).map((m) => [named(m.key), named(m.taken), m.n, m.all]);
  return html`
    <div>
      <${Table} kind="plain" caption=${words.takenCaption(subject, of)} columns=${words.takenColumns} rows=${rows} />
      ${list.length > mostMistakes && html`<p class="hint">${words.more(list.length - mostMistakes)}</p>`}
    </div>`;
}

function Traits({ topics }) {
  if (topics.length === 0) return null;
  const rows = topics.map((t) => [html`<${Told} text=${t.name} />`, t.questions, html`<${Shared} share=${t.share} />`]);
  return html`<${Table} caption=${words.topicsCaption} columns=${words.topicColumns} rows=${rows} />`;
}

function Teams({ report }) {
  const those = (topics, level) => (topics ?? []).filter((t) => t.level === level).map((t) => t.name).join(', ');
  const listed = (topics, level) => (those(topics, level) ? html`<${Told} text=${those(topics, level)} />` : words.neither);
  const rows = report.teams.map((t) => [
    t.name, html`<${Shared} share=${t.share} />`, listed(t.topics.traits, 'strong'), listed(t.topics.traits, 'weak'),
  ]);
  return html`<${Table} caption=${words.teamsCaption} columns=${words.teamColumns} rows=${rows} />`;
}
