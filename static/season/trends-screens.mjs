// What the page of trends shows: shares over dates, as pictures and as tables.

import { html, useState } from '../vendor/preact-htm.mjs';
import { Table, Wide } from '../parts/table.mjs';
import { Heading, Spot } from '../parts/parts.mjs';
import { Choice } from '../parts/fields.mjs';
import { named, tongue } from '../lib/species.mjs';
import { TrendPicture } from './trends-pictures.mjs';
import { club } from '../words/club.mjs';
import { debrief } from '../words/debrief.mjs';

export function TrendsPage({ view, season = '', seasons = [], onSeason, onGames, onPrint }) {
  const { trends, games } = view;
  const dates = trends.all.map((m) => m.date);
  return html`
    <main class="report trends">
      <header>
        <${Heading}>${club.trends}<//>
        <p class="lead">${club.trendsLead}</p>
        <p class="acts"><a href=${season ? `/season?season=${encodeURIComponent(season)}` : '/season'}>${club.season}</a> <button type="button" onClick=${onPrint}>${club.print}</button></p>
        ${view.left > 0 && html`<p class="note">${club.left(view.left)}</p>`}
        ${view.unread > 0 && html`<p class="note">${club.unread(view.unread)}</p>`}
        <${Which} games=${games} season=${season} seasons=${seasons} onSeason=${onSeason} onGames=${onGames} />
      </header>
      ${dates.length === 0 ? html`<p class="lead">${club.noTrends}</p><p class="spots"><${Spot} name="otter-print" /><${Spot} name="otter-print" /><${Spot} name="otter-print" /></p>` : html`
        <section>
          <h2>${club.overall}</h2>
          ${dates.length === 1 && html`<p class="note">${club.oneDate}</p>`}
          <div class="at-desk"><${TrendPicture} name=${club.overall} moments=${trends.all} dates=${dates} large /></div>
          <div class="at-phone"><${TrendPicture} name=${club.overall} moments=${trends.all} dates=${dates} /></div>
          <p class="hint">${club.trendHint}</p>
          <${AsTable} caption=${club.overallCaption} dates=${dates} list=${[{ name: club.overall, moments: trends.all }]} />
        </section>
        <${Topics} kind="subjects" list=${trends.subjects.map((s) => ({ ...s, name: club.subject(s.name) }))} dates=${dates} />
        <${Topics} kind="traits" list=${trends.traits.map((s) => ({ ...s, tongue: tongue(s.name) }))} dates=${dates} />
        <${Topics} kind="species" list=${trends.species.map((s) => ({ ...s, name: named(s.name) }))} dates=${dates} />
        <${Confused} list=${trends.confused} dates=${dates} />`}
    </main>`;
}

function Which({ games, season, seasons, onSeason, onGames }) {
  const [chosen, setChosen] = useState(() => games.filter((g) => g.chosen).map((g) => g.game));
  const toggle = (code, on) => setChosen(games.map((g) => g.game).filter((c) => (c === code ? on : chosen.includes(c))));
  return html`
    <div class="which acts">
      ${seasons.length > 0 && html`<${Choice} id="season" label=${club.choose} value=${season} choices=${[['', club.allGames], ...seasons.map((s) => [s, s])]} onValue=${onSeason} />`}
      ${games.length > 1 && html`
        <details>
          <summary>${club.which}</summary>
          <p class="hint">${club.whichHint}</p>
          ${games.map((g) => html`
            <label class="check" key=${g.game} for=${`game-${g.game}`}>
              <input id=${`game-${g.game}`} type="checkbox" checked=${chosen.includes(g.game)} onChange=${(e) => toggle(g.game, e.target.checked)} />
              <span>${club.gameLine(g)}</span>
            </label>`)}
          <button type="button" disabled=${chosen.length === 0} onClick=${() => onGames(chosen.length === games.length ? [] : chosen)}>${club.showThem}</button>
        </details>`}
    </div>`;
}

// change is how far a share has moved from its first date to its last.
const change = ({ moments }) => moments.at(-1).share.p - moments[0].share.p;

function Topics({ kind, list, dates }) {
  if (list.length === 0) return null;
  return html`
    <section>
      <h2>${club.kinds[kind]}</h2>
      ${dates.length > 1 && html`<p class="hint">${club.picturesHint}</p>`}
      <${Pictures} list=${list} dates=${dates} />
      <${AsTable} caption=${club.topicCaption[kind]} dates=${dates} list=${list} />
    </section>`;
}

// Pictures draws what has two dates or more, the steepest fall first; the
// table has all.
function Pictures({ list, dates }) {
  const sorted = list.filter((s) => s.moments.length > 1).sort((a, b) => change(a) - change(b));
  if (sorted.length === 0) return null;
  return html`
    <ul class="small">
      ${sorted.map((s) => html`<li key=${s.name}><p lang=${s.tongue}>${s.name}</p><${TrendPicture} name=${s.name} moments=${s.moments} dates=${dates} /></li>`)}
    </ul>`;
}

function Confused({ list, dates }) {
  const series = list.map((d) => ({ name: club.pair({ ...d, a: named(d.a), b: named(d.b) }), moments: d.moments }));
  return html`
    <section>
      <h2>${club.confused}</h2>
      ${list.length === 0 ? html`<p>${club.noConfused}</p>` : html`
        <p>${club.confusedLead}</p>
        <${Pictures} list=${series} dates=${dates} />
        <${AsTable} caption=${club.confusedCaption} dates=${dates} list=${series} />`}
    </section>`;
}

function AsTable({ caption, dates, list }) {
  const columns = { topic: club.topic, ...Object.fromEntries(dates.map((d) => [d, d])) };
  const rows = list.map((s) => [html`<span lang=${s.tongue}>${s.name}</span>`, ...dates.map((d) => {
    const share = s.moments.find((m) => m.date === d)?.share;
    return share ? html`${debrief.percent(share.p)} <span class="aside">${debrief.interval(share)}, ${debrief.outOf(share)}</span>` : '–';
  })]);
  return html`
    <details open=${dates.length === 1}>
      <summary>${club.asTable}</summary>
      <${Wide} label=${caption}><${Table} kind="plain" caption=${caption} columns=${columns} rows=${rows} /><//>
    </details>`;
}
