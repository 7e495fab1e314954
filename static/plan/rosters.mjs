// The animals in play: each roster by a name in words and how many it has, and
// who they are for those who want to see.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { named } from '../lib/species.mjs';
import { rosters as words } from '../words/planning.mjs';

// fileName is a roster of the host's own, without the way to it.
const fileName = (name) => name.split(/[\\/]/).pop().replace(/\.csv$/, '');
const mostInWeb = 24; // animals, as foodweb.MostDrawn
const called = (name) => words.names[name] ?? fileName(name);

// Rosters: onHub(method, address) resolves to the hub's answer.
export function Rosters({ names, chosen, onHub, onValue }) {
  const [known, setKnown] = useState([]);
  useEffect(() => { onHub('GET', '/rosters').then(({ data }) => data && setKnown(data)); }, []);
  const animals = (name) => known.find?.((r) => r.name === name)?.animals ?? [];
  const shown = animals(chosen);
  return html`
    <fieldset class="animals">
      <legend>${words.title}</legend>
      <div class="chips">
        ${names.map((name) => html`
          <label class="chip" key=${name}>
            <input type="radio" name="roster" value=${name} checked=${name === chosen} onChange=${() => onValue(name)} />
            <span>${words.counted(called(name), animals(name).length)}</span>
          </label>`)}
      </div>
      ${shown.length > 0 && html`
        <details>
          <summary>${words.see(called(chosen))}</summary>
          <ul class="who">${shown.map((animal) => html`<li key=${animal}>${named(animal)}</li>`)}</ul>
        </details>`}
      ${shown.length > 0 && shown.length <= mostInWeb && html`<p class="elsewhere"><a href=${`/foodweb?roster=${encodeURIComponent(fileName(chosen))}`} target="_blank">${words.web}</a></p>`}
    </fieldset>`;
}
