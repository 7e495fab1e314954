// What a game taught, on one page: three sentences, the pairs that were mixed
// up, bars, and a sheet to study from.

import { html } from '../vendor/preact-htm.mjs';
import { Drawing, Told, perCm } from '../parts/parts.mjs';
import { named, tongue } from '../lib/species.mjs';
import { common, lesson } from '../words/common.mjs';
import { debrief as words } from '../words/debrief.mjs';

const byShare = (a, b) => a.share.p - b.share.p;
const counted = (list) => (list ?? []).filter(({ share }) => share.of > 0);

export function Sentences({ report, asked }) {
  const [hardest] = counted(asked).sort(byShare);
  const [weakest] = counted(report.topics.traits).sort(byShare);
  return html`
    <ul class="sentences">
      <li><b>${words.percent(report.share.p)}</b> ${words.wereRight(report.share, report.teams.length)}</li>
      ${hardest && html`<li><b>${words.hardest(asked.indexOf(hardest) + 1)}</b> ${words.wasHardest(hardest.share)} <span lang=${tongue(hardest.prompt)}>“${hardest.prompt}”</span></li>`}
      ${weakest && html`<li><b><${Told} text=${weakest.name} /></b> ${words.isWeakest(weakest.share)}</li>`}
    </ul>`;
}

const smallest = 0.3; // of its box: what is drawn smaller is enlarged by 2, 4 or 8, and says so
const most = 8;
const shape = 16 / 9; // of the box of each of two that stand side by side

// shares are the widths of drawings as parts of their boxes, all on one scale, and by
// how much each is enlarged beyond it; null where the scale is not known.
function shares(drawings) {
  const read = drawings.map(({ svg }) => new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement);
  if (!read.every((d) => d.viewBox && perCm(d) > 0)) return null;
  const real = read.map((d) => ({ w: d.viewBox.baseVal.width / perCm(d), h: d.viewBox.baseVal.height / perCm(d) }));
  const room = ({ w, h }) => Math.max(w, h * shape);
  const widest = Math.max(...real.map(room));
  return real.map((r) => {
    let times = 1;
    while (times * room(r) < smallest * widest && times < most) times *= 2;
    return { share: (times * r.w) / widest, times };
  });
}

// SideBySide are drawings, each {svg, alt}, on one scale, on the screen and on paper.
function SideBySide({ drawings }) {
  const on = shares(drawings);
  return html`
    <div class="both">
      ${drawings.map((plate, i) => html`
        <div key=${i} style=${{ '--share': on ? on[i].share : 1 }}>
          <${Drawing} plate=${plate} kind="thumb" />
          ${on?.[i].times > 1 && html`<p class="aside">${lesson.times(on[i].times)}</p>`}
        </div>`)}
    </div>`;
}

const said = (s) => html`<span lang=${tongue(s.trait)}>${s.trait}: ${s.a} / ${s.b}</span>`;

export function Mixed({ pairs }) {
  return html`
    <section>
      <h2>${words.lookAt}</h2>
      ${pairs.length === 0 && html`<p>${words.noneTaken}</p>`}
      <ul class="mixed">
        ${pairs.map((p) => html`
          <li key=${p.subject + p.a + p.b}>
            <${SideBySide} drawings=${p.drawings} />
            <p><b>${words.pair({ a: named(p.a), b: named(p.b) })}</b> <span class="aside">${common.subjects[p.subject] ?? p.subject}: ${words.mixedUp(p)}</span></p>
            ${p.separators.slice(0, 2).map((s) => html`<p class="apart" key=${s.trait}>${said(s)}</p>`)}
          </li>`)}
      </ul>
    </section>`;
}

const mostTraits = 6;

export function Known({ topics }) {
  const subjects = counted(topics.subjects).map((t) => ({ ...t, label: common.subjects[t.name] ?? t.name }));
  const traits = counted(topics.traits).sort(byShare).slice(0, mostTraits).map((t) => ({ ...t, label: t.name }));
  return html`
    <section>
      <h2>${words.known}</h2>
      <ul class="bars">${[...subjects, ...traits].map((t) => html`<${Bar} key=${t.label} label=${t.label} share=${t.share} />`)}</ul>
    </section>`;
}

function Bar({ label, share }) {
  return html`
    <li>
      <span class="what" lang=${tongue(label)}>${label}</span>
      <svg class="bar-of" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect class="trough" width="100" height="10" /><rect class="dark" width=${100 * share.p} height="10" /></svg>
      <span class="n">${words.percent(share.p)} <span class="aside">${words.outOf(share)}</span></span>
    </li>`;
}

const mostMissed = 8;

// StudySheet is for paper alone: what was mixed up, and what was missed with its answer.
export function StudySheet({ report, asked }) {
  const missed = counted(asked).filter(({ share }) => share.p < 1).sort(byShare).slice(0, mostMissed);
  return html`
    <section class="study-sheet">
      <h1>${words.studyTitle(report.title)}</h1>
      ${(report.mixed ?? []).map((p) => html`
        <div class="study-pair" key=${p.subject + p.a + p.b}>
          <h2>${words.pair({ a: named(p.a), b: named(p.b) })} <span class="aside">${common.subjects[p.subject] ?? p.subject}</span></h2>
          <${SideBySide} drawings=${p.drawings} />
          <ul>${p.separators.map((s) => html`<li key=${s.trait}>${said(s)}</li>`)}</ul>
        </div>`)}
      <h2>${words.studyMissed}</h2>
      <ol>${missed.map((q) => html`<li key=${q.id}><span lang=${tongue(q.prompt)}>${q.prompt}</span> <b>${answerOf(q)}</b></li>`)}</ol>
    </section>`;
}

// drawn are the templates whose options are drawings: their animals say more than their letters.
export const drawn = ['which-plate', 'plate-shows'];

const answerOf = (q) => named((drawn.includes(q.about.template) ? q.about.species : q.options)[q.key]);
