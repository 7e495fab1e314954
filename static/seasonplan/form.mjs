// The coach's wish for a season.

import { html, useState } from '../vendor/preact-htm.mjs';
import { Check, Choice, Count, bounds, drawnSubjects, Subjects, Text, usualSubjects } from '../parts/fields.mjs';
import { Field } from '../parts/parts.mjs';
import { language } from '../lib/language.mjs';
import { named } from '../lib/species.mjs';
import { common } from '../words/common.mjs';
import { rosters as rosterWords } from '../words/planning.mjs';
import { seasonPlan as words } from '../words/season-plan.mjs';

const weekdays = [1, 2, 3, 4, 5, 6, 0]; // 0 is Sunday

const usualRoster = 'furbearers';

const usual = (today, rosters) => ({
  contest: '', from: today, week: [{ weekday: 2, time: '16:00', minutes: 45 }], off: [], roster: (rosters.find((r) => r.name === usualRoster) ?? rosters[0])?.name ?? '',
  subjects: usualSubjects, double: [], new: 180, review: 60, language: language === 'en' ? '' : language,
});

export function WishForm({ view, rosters, today, onMake }) {
  const [wish, setWish] = useState(view.wish ?? usual(today, rosters));
  const [season, setSeason] = useState(view.season || today.slice(0, 4));
  const edit = (fields) => setWish({ ...wish, ...fields });
  const chosen = rosters.find((r) => r.name === wish.roster);
  const submit = (event) => {
    event.preventDefault();
    onMake(season, wish);
  };
  return html`
    <form class="season-wish" onSubmit=${submit}>
      <div class="fields narrow">
        <${Text} id="season" label=${words.season} value=${season} most=${bounds.season} onValue=${setSeason} />
        <${Day} id="contest" label=${words.contest} value=${wish.contest} onValue=${(contest) => edit({ contest })} />
        <${Day} id="from" label=${words.from} value=${wish.from} onValue=${(from) => edit({ from })} />
      </div>
      <${Week} week=${wish.week} onValue=${(week) => edit({ week })} />
      <${Holidays} off=${wish.off ?? []} onValue=${(off) => edit({ off })} />
      <div class="fields narrow">
        <${Choice} id="roster" label=${words.roster} value=${wish.roster} choices=${rosters.map((r) => [r.name, rosterWords.counted(r.title, r.animals.length)])} onValue=${(roster) => edit({ roster, double: [] })} />
        <${Count} id="new" label=${words.newSeconds} min=${10} max=${3600} value=${wish.new} onValue=${(n) => edit({ new: n })} />
        <${Count} id="review" label=${words.reviewSeconds} min=${10} max=${3600} value=${wish.review} onValue=${(n) => edit({ review: n })} />
      </div>
      <${Subjects} id="season-subjects" offered=${drawnSubjects} chosen=${wish.subjects} onValue=${(subjects) => edit({ subjects })} />
      ${chosen && html`
        <details>
          <summary>${words.double(wish.double?.length ?? 0)}</summary>
          <div class="checks" role="group" aria-label=${words.double(0)}>
            ${chosen.animals.map((a) => html`<${Check} key=${a} id=${`double-${a}`} label=${named(a)} checked=${(wish.double ?? []).includes(a)}
              onValue=${(on) => edit({ double: on ? [...(wish.double ?? []), a] : wish.double.filter((d) => d !== a) })} />`)}
          </div>
        </details>`}
      <p><button type="submit" class=${view.wish ? '' : 'main'}>${view.wish ? words.planAnew : words.make}</button></p>
    </form>`;
}

function Day({ id, label, value, onValue }) {
  return html`<${Field} id=${id} label=${label}><input id=${id} type="date" required value=${value} onInput=${(e) => onValue(e.target.value)} /><//>`;
}

// Week has a line for each weekday on which the club meets.
function Week({ week, onValue }) {
  const toggle = (weekday, on) => onValue(on ? [...week, { weekday, time: week[0]?.time ?? '16:00', minutes: week[0]?.minutes ?? 45 }] : week.filter((m) => m.weekday !== weekday));
  const edit = (weekday, fields) => onValue(week.map((m) => (m.weekday === weekday ? { ...m, ...fields } : m)));
  return html`
    <div class="checks" role="group" aria-labelledby="weekdays">
      <span id="weekdays">${words.week}</span>
      ${weekdays.map((d) => html`<${Check} key=${d} id=${`weekday-${d}`} label=${words.weekdays[d]} checked=${week.some((m) => m.weekday === d)} onValue=${(on) => toggle(d, on)} />`)}
    </div>
    ${weekdays.map((d) => week.find((m) => m.weekday === d)).filter(Boolean).map((m) => html`
      <div class="fields narrow" key=${m.weekday}>
        <${Field} id=${`time-${m.weekday}`} label=${words.timeOn(m.weekday)}>
          <input id=${`time-${m.weekday}`} type="time" required value=${m.time} onInput=${(e) => edit(m.weekday, { time: e.target.value })} />
        <//>
        <${Count} id=${`minutes-${m.weekday}`} label=${words.minutesOn(m.weekday)} min=${1} max=${300} value=${m.minutes} onValue=${(minutes) => edit(m.weekday, { minutes })} />
      </div>`)}`;
}

// Holidays are dates, or two with a slash between them: the first and the last.
function Holidays({ off, onValue }) {
  const edit = (i, from, to) => onValue(off.map((o, j) => (j !== i ? o : to && to !== from ? `${from}/${to}` : from)));
  return html`
    <fieldset class="holidays">
      <legend>${words.off}</legend>
      ${off.map((o, i) => {
        const [from, to = from] = o.split('/');
        return html`
          <div class="fields narrow" key=${i}>
            <${Day} id=${`off-${i}`} label=${words.offFrom(i + 1)} value=${from} onValue=${(day) => edit(i, day, day > to ? day : to)} />
            <${Day} id=${`off-to-${i}`} label=${words.offTo(i + 1)} value=${to} onValue=${(day) => edit(i, from, day)} />
            <button type="button" onClick=${() => onValue(off.filter((_, j) => j !== i))}>${words.offLess(i + 1)}</button>
          </div>`;
      })}
      <button type="button" onClick=${() => onValue([...off, ''])}>${words.offMore}</button>
    </fieldset>`;
}
