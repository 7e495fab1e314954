// What a reveal teaches: the key's drawing beside that of the animal that most
// took for it, on one scale, with what decides marked, and how many took what.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Sign, Told, perCm } from './parts.mjs';
import { named, tongue } from '../lib/species.mjs';
import { common, lesson as words } from '../words/common.mjs';

const pointer = 'leader'; // the part of a drawing that points at another
const smallest = 0.45; // of its box: what is drawn smaller is enlarged by 2, 4 or 8, and says so
const most = 8;
const upright = 1.5; // widths to a height: beside such a drawing there is room for words

// fetched is a drawing as nodes, whose parts can be marked; null where the hub
// does not send it any more.
async function fetched({ plate, svg }) {
  try {
    const answer = svg ? null : await fetch(plate);
    if (answer && !answer.ok) return null;
    const root = new DOMParser().parseFromString(svg ?? await answer.text(), 'image/svg+xml').documentElement;
    return root.nodeName === 'svg' ? root : null;
  } catch {
    return null;
  }
}

// mark finds the parts that decide. A line is always drawn; what has a ground
// gets the mark's colour too, unless it is the colour that decides.
export function mark(svg, { parts = [], lines, recalled }) {
  for (const part of parts ?? []) {
    const chain = part.split(' ').map((name) => `[data-n~="${CSS.escape(name)}"]`).join(' ');
    for (const found of svg.querySelectorAll(chain)) {
      for (const node of [found, ...found.querySelectorAll('path')]) {
        node.classList.add('deciding');
        const ground = node.closest('[fill]')?.getAttribute('fill');
        if (ground && ground !== 'none' && !lines) node.classList.add('filled');
        if (recalled) node.classList.add('recalled');
      }
    }
  }
}

// scaled sizes drawings to their boxes, all on one scale where that is known.
// It returns by how much each is enlarged beyond it, or null without a scale.
function scaled(boxes, drawings) {
  const known = drawings.every((d) => perCm(d) > 0);
  const real = drawings.map((d) => {
    const { width, height } = d.viewBox.baseVal;
    const unit = known ? perCm(d) : 1;
    return { w: width / unit, h: height / unit };
  });
  const fits = real.map(({ w, h }, i) => Math.min(boxes[i].clientWidth / w, boxes[i].clientHeight / h));
  const scale = Math.min(...fits);
  return drawings.map((d, i) => {
    let times = 1;
    while (known && scale * times < smallest * fits[i] && times < most) times *= 2;
    const size = known ? scale * times : fits[i];
    d.setAttribute('width', String(Math.max(1, real[i].w * size)));
    d.setAttribute('height', String(Math.max(1, real[i].h * size)));
    return known ? times : null;
  });
}

// useDrawings puts the sides' drawings into the boxes, and keeps them to scale. gait
// tells whether a trail's measures are named in one, tall whether they stand upright.
function useDrawings(lesson, boxes) {
  const [times, setTimes] = useState([]);
  const [shape, setShape] = useState({});
  const asked = lesson.sides.map((s) => s.svg ?? s.plate).join('\n');
  useEffect(() => {
    let drawings = [];
    let shown = [];
    const resize = () => {
      const at = shown.map((i) => boxes.current[i]).filter(Boolean);
      if (at.length > 0 && at.length === drawings.length) {
        const now = scaled(at, drawings);
        setTimes((old) => (old.join() === now.join() ? old : now));
      }
    };
    const watch = new ResizeObserver(resize);
    let here = true;
    Promise.all(lesson.sides.map((s) => (s.svg || s.plate ? fetched(s) : null))).then((got) => {
      if (!here) return;
      got.forEach((svg, i) => {
        if (!svg || !boxes.current[i]) return;
        const drawn = document.importNode(svg, true);
        mark(drawn, lesson);
        boxes.current[i].replaceChildren(drawn);
        watch.observe(boxes.current[i]);
        drawings.push(drawn);
        shown.push(i);
      });
      setShape({ gait: drawings.some((d) => d.querySelector('[data-n~="straddle"]')), tall: drawings.every((d) => d.viewBox.baseVal.width < upright * d.viewBox.baseVal.height) });
      resize();
    });
    return () => {
      here = false;
      watch.disconnect();
      drawings = [];
      shown = [];
    };
  }, [asked]);
  return { times, ...shape };
}

// Lesson: tag(side, i) is what is said of a side's option. Two drawings of one animal
// are both the key's.
export function Lesson({ lesson, tag = () => null }) {
  const boxes = useRef([]);
  const { times, gait, tall } = useDrawings(lesson, boxes);
  const scale = times.length > 1 && times.every((n) => n === 1);
  const pointed = pointsAt(lesson);
  return html`
    <div class=${tall ? 'lesson tall' : 'lesson'}>
      <div class="sides">
        ${lesson.sides.map((s, i) => (s.plate || s.svg || !teaches(lesson)) && html`
          <figure key=${i} class=${s.latin === lesson.sides[0].latin ? 'likeness key' : 'likeness'}>
            <figcaption>
              <b class="animal" lang=${tongue(pointed ? s.says : s.animal)}>${pointed ? s.says : named(s.animal)}</b> <i lang=${pointed ? tongue(s.animal) : 'la'}>${pointed ? named(s.animal) : s.latin}</i>
              ${tag(s, i)}
            </figcaption>
            ${(s.plate || s.svg) && html`<div class="drawing" role="img" lang=${tongue(s.plateAlt)} aria-label=${s.plateAlt} ref=${(el) => { boxes.current[i] = el; }}></div>`}
            ${s.says && !pointed && html`<p class="says" lang=${tongue(s.says)}>${s.says}</p>`}
            ${times[i] > 1 && html`<p class="times">${words.times(times[i])}</p>`}
          </figure>`)}
      </div>
      ${teaches(lesson) && html`<p class="fine">${[words.schematic, scale && words.oneScale, gait && words.gait, lesson.recalled && words.recalled].filter(Boolean).join(' ')}</p>`}
    </div>`;
}

// pointsAt tells whether a lesson is of one drawing whose title is the answer.
export const pointsAt = (lesson) => Boolean(lesson.parts?.includes(pointer));

// teaches tells whether a lesson has a drawing to show.
export const teaches = (lesson) => Boolean(lesson?.sides.some((s) => s.plate || s.svg));

// Tally are the answers with how many took each, as bars that are labelled.
// own is the reader's, if there is one.
export function Tally({ question, reveal, own }) {
  const all = tallied(question, reveal);
  const given = Math.max(1, all.reduce((sum, a) => sum + a.picks, 0)); // a bar is a share of all answers
  const short = all.every((a) => named(a.text).length <= 28) && all.length <= 5;
  return html`
    <ol class=${short ? 'options tally short' : 'options tally'}>
      ${all.map((a, i) => {
        const mine = own !== undefined && own === a.option;
        return html`
          <li key=${i} class=${a.key ? 'row key' : mine ? 'row miss' : 'row'}>
            <div>
              <span class="letter">${a.letter}</span>
              <span class="text" lang=${tongue(a.text)}>${named(a.text)}</span>
              <span class="count"><span class="heard">${common.picks(a.picks)}</span><span aria-hidden="true">${a.picks}</span></span>
              <span class="bar" aria-hidden="true"><span ref=${(el) => el?.style.setProperty('--part', a.picks / given)}></span></span>
              ${(a.key || mine) && html`<span class="mark"><${Sign} kind=${a.key ? 'right' : 'wrong'} /> ${[a.key && common.key, mine && words.yours].filter(Boolean).join(', ')}</span>`}
            </div>
          </li>`;
      })}
    </ol>`;
}

function tallied(question, reveal) {
  const list = question.options.map((text, i) => ({
    option: i, text: reveal.names?.[i] ?? text, letter: question.typed ? '' : common.letters[i], picks: reveal.picks[i] ?? 0, key: i === reveal.key,
  }));
  return [...list, ...(reveal.others ?? []).map((o) => ({ option: -1, text: o.name, letter: '', picks: o.picks, key: false }))];
}

// tagOf says of a side which option it is, and how many took it.
export function tagOf(question, reveal) {
  return (side, i) => {
    const typed = question.typed && i > 0 ? reveal.others?.[0]?.picks : undefined;
    const picks = typed ?? reveal.picks[side.option] ?? 0;
    if (side.option < 0) return null;
    const text = question.options[side.option];
    const other = question.typed || question.plates?.length > 0 || text === side.animal ? '' : `${named(text)} `; // than the animal: what was asked of it
    const letter = question.typed ? '' : `${common.letters[side.option]} `;
    return html`<span class="tag">${letter}${other}${i === 0 ? html`<${Sign} kind="right" /> ${common.key}` : picks > 0 ? common.picks(picks) : ''}</span>`;
  };
}

// Specimen is what lay at a station, its deciding parts marked. A photo stays
// one: it has no parts to mark.
export function Specimen({ specimen }) {
  const { animal, plate, plateAlt, credit, parts = [], recalled = false } = specimen;
  if (credit) return html`<img class="plate" src=${plate} alt=${plateAlt} lang=${tongue(plateAlt)} /><p class="credit">${common.photoBy(credit)}</p>`;
  return html`<${Lesson} lesson=${{ sides: [{ animal, latin: '', says: '', plate, plateAlt }], parts, recalled }} />`;
}

// keyMark marks the key's row, and with own the team's choice.
export function keyMark(key, own) {
  return (i) => {
    const said = [i === key && common.key, i === own?.option && own.label].filter(Boolean);
    return said.length > 0 && { text: said.join(', '), ...(i === key ? { sign: 'right', kind: 'key' } : { sign: 'wrong', kind: 'miss' }) };
  };
}

export function Because({ reason }) {
  return reason && html`<p class="reason"><b>${common.reason}:</b> <${Told} text=${reason} /></p>`;
}
