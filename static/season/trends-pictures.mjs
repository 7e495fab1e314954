// A share over dates, drawn: a dot for each date, and its interval as a line.
// It is of ink on paper; what it shows is in its label and in a table, too.

import { html } from '../vendor/preact-htm.mjs';
import { club } from '../words/club.mjs';

const sizes = {
  small: { width: 340, height: 120, left: 56, right: 14, top: 12, bottom: 24 },
  large: { width: 760, height: 260, left: 56, right: 20, top: 12, bottom: 28 },
};
const levels = [0, 0.5, 1];
const dateWidth = 90; // that a date takes below the axis

// TrendPicture places dates by the days between them, so that a long pause shows.
export function TrendPicture({ name, moments, dates, large = false }) {
  const s = large ? sizes.large : sizes.small;
  const x = along(dates, s.left + 8, s.width - s.right - 8);
  const y = (p) => s.top + (1 - p) * (s.height - s.top - s.bottom);
  const path = moments.map((m, i) => `${i === 0 ? 'M' : 'L'}${x(m.date)} ${y(m.share.p)}`).join('');
  return html`
    <svg class="picture trend" viewBox=${`0 0 ${s.width} ${s.height}`} width=${s.width} height=${s.height} role="img" aria-label=${club.trendAlt(name, moments)}>
      ${levels.map((p) => html`<path class="rule" d=${`M${s.left} ${y(p)}H${s.width - s.right}`} /><text class="end" x=${s.left - 6} y=${y(p) + 5}>${100 * p}\u00a0%</text>`)}
      <path class="thin" d=${path} />
      ${moments.map((m) => html`
        <path class="pen" d=${`M${x(m.date)} ${y(m.share.low)}V${y(m.share.high)}M${x(m.date) - 4} ${y(m.share.low)}h8M${x(m.date) - 4} ${y(m.share.high)}h8`} />
        <circle class="dot" cx=${x(m.date)} cy=${y(m.share.p)} r="4" />`)}
      ${named(dates, x, s).map(([date, anchor, at]) => html`<text class=${anchor} x=${at} y=${s.height - 6}>${date}</text>`)}
    </svg>`;
}

const day = (date) => Date.parse(date) / 86_400_000;

// along gives each date its place; a lone one stands in the middle.
function along(dates, from, to) {
  const first = day(dates[0]);
  const span = day(dates.at(-1)) - first;
  return (date) => (span ? from + ((day(date) - first) / span) * (to - from) : (from + to) / 2);
}

// named are the dates that have room below the axis: the last, and from the
// first on those that don't touch each other.
function named(dates, x, s) {
  if (dates.length === 1) return [[dates[0], 'middle', x(dates[0])]];
  const last = s.width - s.right;
  const out = [[dates[0], 'start', s.left]];
  let end = s.left + dateWidth;
  for (const date of dates.slice(1, -1)) {
    if (x(date) - dateWidth / 2 < end || x(date) + dateWidth / 2 > last - dateWidth) continue;
    out.push([date, 'middle', x(date)]);
    end = x(date) + dateWidth / 2;
  }
  return [...out, [dates.at(-1), 'end', last]];
}
