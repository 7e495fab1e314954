// The debrief's two pictures, as SVG. They are of ink on paper: what a mark
// means is told by its shape.

import { html } from '../vendor/preact-htm.mjs';
import { debrief } from '../words/debrief.mjs';

const cell = 22;
const nameWidth = 160;
const longestName = 19; // letters that fit there

const short = (name) => (name.length > longestName ? `${name.slice(0, longestName - 1)}…` : name);

// glyphs are drawn in a cell from 0 to 22.
const glyphs = {
  right: html`<path class="pen" d="M6 12l4 4 7-10" />`,
  wrong: html`<rect class="dark" x="1" y="1" width="20" height="20" /><path class="light" d="M7 7l8 8M15 7l-8 8" />`,
  none: html`<rect class="half" x="1" y="1" width="20" height="20" /><path class="pen" d="M7 11h8" />`,
  '': null,
};

function Cell({ mark, x, y }) {
  return html`<g transform=${`translate(${x} ${y})`}><rect class="frame" width=${cell} height=${cell} />${glyphs[mark]}</g>`;
}

// HeatMap has a row for each team and a column for each question.
export function HeatMap({ teams, questions }) {
  const width = nameWidth + cell * questions.length + 1;
  const height = cell * (teams.length + 1) + 1;
  return html`
    <svg class="picture" viewBox=${`0 0 ${width} ${height}`} width=${width} height=${height} role="img" aria-label=${debrief.heatAlt(teams.length, questions.length)}>
      ${questions.map((q, i) => html`<text class="middle" x=${nameWidth + cell * (i + 0.5)} y="16">${i + 1}</text>`)}
      ${teams.map((t, row) => html`
        <text x="0" y=${cell * (row + 1) + 16}>${short(t.name)}</text>
        ${questions.map((q, i) => html`<${Cell} mark=${q.answers[t.place].mark} x=${nameWidth + cell * i} y=${cell * (row + 1)} />`)}`)}
    </svg>`;
}

export function Legend() {
  return html`
    <ul class="legend">
      ${Object.entries(debrief.marks).map(([mark, word]) => html`
        <li key=${mark}><svg width=${cell + 1} height=${cell + 1} aria-hidden="true"><${Cell} mark=${mark} x="0" y="0" /></svg> ${word}</li>`)}
    </ul>`;
}

const line = 20;
const left = 40; // of the questions' numbers
const right = 24;
const across = 760;

// Timeline has a line for each question, along the game's time.
export function Timeline({ questions }) {
  const end = Math.max(1000, ...questions.map(lastSign));
  const x = (ms) => left + (ms / end) * (across - left - right);
  const height = line * (questions.length + 1) + 4;
  return html`
    <svg class="picture" viewBox=${`0 0 ${across} ${height}`} width=${across} height=${height} role="img" aria-label=${debrief.timelineAlt}>
      ${ticks(end).map((ms) => html`
        <path class="rule" d=${`M${x(ms)} 18V${height}`} /><text class="middle" x=${x(ms)} y="13">${debrief.clock(ms)}</text>`)}
      ${questions.map((q, i) => html`<${Moment} q=${q} n=${i + 1} x=${x} y=${line * (i + 1.5)} />`)}
    </svg>`;
}

function Moment({ q, n, x, y }) {
  const { q1, median, q3 } = q.time;
  return html`
    <text x="0" y=${y + 5}>${n}</text>
    <path class="pen" d=${`M${x(q.at)} ${y - 7}v14M${x(q.at)} ${y}H${x(lastSign(q))}`} />
    ${median !== null && html`
      <rect class="box" x=${x(q.at + q1)} y=${y - 6} width=${Math.max(3, x(q.at + q3) - x(q.at + q1))} height="12" />
      <path class="pen" d=${`M${x(q.at + median)} ${y - 8}v16`} />`}`;
}

// lastSign is when the last answer came, as far as known.
function lastSign(q) {
  return q.at + Math.max(q.time.q3 ?? 0, ...(q.answers ?? []).map((a) => a.ms));
}

const steps = [5, 15, 30, 60, 120, 300, 600, 1200].map((s) => s * 1000);

// ticks are the times that the axis names, some ten at most.
function ticks(end) {
  const step = steps.find((s) => end / s <= 10) ?? 3_600_000;
  return Array.from({ length: Math.floor(end / step) + 1 }, (_, i) => i * step);
}
