// Parts that several pages share. They draw what they are handed.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { inLanguage, keepLanguage, language, languages } from '../lib/language.mjs';
import { cleanCode } from '../lib/codes.mjs';
import { named, tongue } from '../lib/species.mjs';
import { announce, common, hub, joining, pages, stops } from '../words/common.mjs';

// title is the page's own.
export const title = pages.titles[[...document.documentElement.classList].at(-1)];
document.title = title ? `${title} · ${common.name}` : common.name;

// Options are plain rows lettered A to E, or cells with a drawing each.
// mark(i) gives {text, kind} for an option or null. Options to choose from are
// buttons, and stay so once onPick is gone: the focus would be lost with them.
// larger is what opens a drawing, beside its cell.
export function Options({ question, mark = () => null, choose = false, onPick, larger }) {
  const { options, plates = [] } = question;
  return html`
    <ol class=${plates.length > 0 ? 'options pictured' : 'options'}>
      ${options.map((text, i) => {
        const m = mark(i);
        const row = html`
          <span class="letter">${common.letters[i]}</span>
          ${plates[i]?.svg ? html`<${Drawing} plate=${plates[i]} kind="thumb" />` : plates[i]?.plate ? html`<img class="thumb" src=${plates[i].plate} lang=${tongue(plates[i].plateAlt)} alt=${plates[i].plateAlt} />` : html`<span class="text" lang=${tongue(text)}>${named(text)}</span>`}
          ${m && html`<span class="mark">${m.sign && html`<${Sign} kind=${m.sign} />`} ${m.text}</span>`}`;
        return html`<li key=${i} class=${m ? `row ${m.kind}` : 'row'}>
          ${larger && plates[i]?.plate && html`<${larger} plate=${plates[i]} label=${common.letters[i]} />`}
          ${choose ? html`<button type="button" aria-disabled=${onPick ? 'false' : 'true'} onClick=${() => onPick?.(i)}>${row}</button>` : html`<div>${row}</div>`}
        </li>`;
      })}
    </ol>`;
}

// Sign is a tick or a cross, drawn; what it says can be read and heard as well.
export function Sign({ kind }) {
  return html`<span class=${`sign ${kind}`}>${common[kind]}</span>`;
}

// Drawing puts a plate's own nodes into the page: its policy lets in no image
// that does not come from the hub, and a saved page has no hub.
export function Drawing({ plate, kind = 'plate' }) {
  const box = useRef(null);
  useEffect(() => {
    const drawn = new DOMParser().parseFromString(plate.svg, 'image/svg+xml').documentElement;
    box.current.replaceChildren(document.importNode(drawn, true));
  }, [plate]);
  return html`<div class=${kind} role="img" lang=${tongue(plate.alt)} aria-label=${plate.alt} ref=${box}></div>`;
}

// perCm is how many units of a drawing a centimetre takes, by its own bar; 0
// where it has none.
export function perCm(svg) {
  const bar = svg.querySelector('[data-n~="bar"]');
  const long = Number(/h([\d.]+)/.exec(bar?.getAttribute('d') ?? '')?.[1]);
  let note = bar;
  while (note && note.nodeName !== 'text') note = note.nextElementSibling;
  const cm = parseFloat(note?.textContent);
  return long > 0 && cm > 0 ? long / cm : 0;
}

export function Plate({ question }) {
  if (!question.plate) return null;
  return html`
    <img class="plate" src=${question.plate} lang=${tongue(question.plateAlt)} alt=${question.plateAlt} />
    ${question.credit && html`<p class="credit">${common.photoBy(question.credit)}</p>`}`;
}

// Told is a sentence of the hub's. No line breaks within a part of a dental formula,
// such as C 1/1.
export function Told({ text }) {
  const parts = text.split(/([A-Z] \d\/\d)/);
  return html`<span lang=${tongue(text)}>${parts.map((part, i) => (i % 2 ? html`<span class="whole">${part}</span>` : part))}</span>`;
}

// tied tells whether equal scores need a word.
export const tied = (leaders) => leaders.some((l, i) => i > 0 && l.score === leaders[i - 1].score);

// Leaders is a ranking; own marks a team's line in words as well as in weight.
export function Leaders({ leaders, caption, own }) {
  return html`
    <table class="leaders">
      ${caption && html`<caption>${caption}</caption>`}
      <thead><tr>
        <th scope="col">${common.rank}</th><th scope="col">${common.team}</th>
        <th scope="col" class="number">${common.rightAnswers}</th><th scope="col" class="number">${common.score}</th>
      </tr></thead>
      <tbody>
        ${leaders.map((l) => html`<tr key=${l.team} class=${l.name === own ? 'own' : ''}>
          <td>${l.rank}</td><th scope="row">${l.name}</th><td class="number">${l.right}</td><td class="number">${l.score}</td>
        </tr>`)}
      </tbody>
    </table>`;
}

// gone says why there is no link, or nothing.
const gone = (link) => ({ lost: common.lost, restarting: common.restarting, later: common.later })[link];

// Banners say what holds the game up: no link, a pause, a notice of the hub.
export function Banners({ link, state }) {
  return html`
    <div role="status" class="banners">
      ${gone(link) && html`<p class="banner urgent">${gone(link)}</p>`}
      ${state && (state.paused || state.notice) && html`
        <p class="banner">${state.paused && html`<b>${common.paused}.</b>`} ${hub.notice(state)}</p>`}
    </div>`;
}

// announcement says the phase and never more than the page shows: it is heard
// before the reveal.
function announcement(state) {
  switch (state.phase) {
    case 'asking': return announce.asking(state.question);
    case 'buzzed': return announce.buzzed(state.buzz.name);
    case 'walk': case 'station': case 'marked': return announce[state.phase](state.rotation);
    default: return announce[state.phase];
  }
}

export function Announcer({ state }) {
  return html`<p class="heard" role="status">${announcement(state)}</p>`;
}

// Heading takes the focus when the screen it heads comes up, unless the
// reader is in the middle of something that is still there.
export function Heading({ children }) {
  const at = useRef(null);
  useEffect(() => {
    if (document.activeElement === document.body) at.current.focus({ preventScroll: true });
  }, []);
  return html`<h1 tabindex="-1" ref=${at}>${children}</h1>`;
}

// Spot is a small drawing beside the words, by its name at the hub. It says nothing.
export function Spot({ name }) {
  return html`<img class="spot" src=${`/spot/${name}`} alt="" loading="lazy" />`;
}

export function Stopped({ title, text, action, onAction }) {
  return html`
    <main class="stopped">
      <${Heading}>${title}<//>
      ${text && html`<p role="alert">${text}</p>`}
      ${action && html`<button type="button" class="main" onClick=${onAction}>${action}</button>`}
      <p><a href="/">${common.toStart}</a></p>
    </main>`;
}

// whyStopped says why the hub closed the door: {code, message}.
export const whyStopped = (stop) => stops[stop.code] || hub.refused(stop) || stops.other;

// Languages are links to this page in each of them.
export function Languages() {
  return html`
    <nav class="languages" aria-label=${pages.language}>
      ${Object.entries(languages).map(([tag, name]) => html`
        <a key=${tag} lang=${tag} hreflang=${tag} href=${inLanguage(tag)} aria-current=${tag === language ? 'true' : undefined} onClick=${() => keepLanguage(tag)}>${name}</a>`)}
    </nav>`;
}

export function Connecting() {
  return html`<main class="stopped"><h1>${common.connecting}</h1></main>`;
}

// Field is a labelled control with its hint tied to it.
export function Field({ id, label, hint, children }) {
  return html`
    <div class="field">
      <label for=${id}>${label}</label>
      ${children}
      ${hint && html`<p class="hint" id=${`${id}-hint`}>${hint}</p>`}
    </div>`;
}

// Message says what went wrong or, with good, what went well.
export function Message({ text, good = false }) {
  const kind = good ? 'note' : 'message';
  return html`<p role=${good ? 'status' : 'alert'} class=${text ? kind : 'heard'}>${text}</p>`;
}

// CodeForm asks for a join code; check resolves to {message}, where something is
// wrong with it, by default that the hub has no such game. A tournament's code leads
// to its page, cup.
export function CodeForm({ go, cup = '/tournament/team', label = joining.join, message: first = '', check = lookUp }) {
  const [message, setMessage] = useState(first);
  const input = useRef(null);

  async function submit(event) {
    event.preventDefault();
    const code = cleanCode(input.current.value);
    const found = code ? await check(code) : { message: joining.noCode };
    if (found.tournament) return location.assign(`${cup}?id=${encodeURIComponent(code)}`);
    if (!found.message) return go(code);
    setMessage(found.message);
    input.current.focus();
  }

  return html`
    <form onSubmit=${submit} novalidate>
      <${Field} id="code" label=${joining.codeLabel} hint=${joining.codeHint}>
        <input id="code" ref=${input} name="code" autocomplete="off" autocapitalize="none" spellcheck="false"
          maxlength="60" aria-describedby="code-hint" />
      <//>
      <${Message} text=${message} />
      <button type="submit" class="main">${label}</button>
    </form>`;
}

// lookUp resolves to what is wrong with a code, or whether it is a tournament's.
async function lookUp(code) {
  try {
    const answer = await fetch(`/find?code=${encodeURIComponent(code)}`);
    const told = await answer.json();
    return answer.ok ? told : { message: hub.refused(told) };
  } catch {
    return { message: joining.unreachable };
  }
}

// A name of this machine by which no phone reaches it.
const ownName = /^(localhost|127\.|\[::1\])/;

// reaches tells whether an address, without its scheme, is of use to another device.
export const reaches = (address) => !ownName.test(address);

export function gameInAddress() {
  return cleanCode(new URLSearchParams(location.search).get('game') ?? '');
}
