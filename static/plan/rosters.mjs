// The animals in play: each roster by a name in words and how many it has, and
// who they are for those who want to see.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { named } from '../lib/species.mjs';
import { rosters as words } from '../words/planning.mjs';

// fileName is a roster of the host's own, without the way to it.
const fileName = (name) => name.split(/[\\/]/).pop().replace(/\.csv$/, '');
const nobody = { animals: [], foodWeb: '' };

// Rosters: onHub(method, address) resolves to the hub's answer.
export function Rosters({ names, chosen, onHub, onValue }) {
  const [known, setKnown] = useState([]);
  useEffect(() => { onHub('GET', '/rosters').then(({ data }) => data && setKnown(data)); }, []);
  const of = (name) => known.find?.((r) => r.name === name) ?? { ...nobody, title: fileName(name) };
  const { title, animals: shown, foodWeb } = of(chosen);
  return html`
    <fieldset class="animals">
      <legend>${words.title}</legend>
      <div class="chips">
        ${names.map((name) => html`
          <label class="chip" key=${name}>
            <input type="radio" name="roster" value=${name} checked=${name === chosen} onChange=${() => onValue(name)} />
            <span>${words.counted(of(name).title, of(name).animals.length)}</span>
          </label>`)}
      </div>
      ${shown.length > 0 && html`
        <details>
          <summary>${words.see(title)}</summary>
          <ul class="who">${shown.map((animal) => html`<li key=${animal}>${named(animal)}</li>`)}</ul>
        </details>`}
      ${foodWeb && html`<p class="elsewhere"><a href=${`/foodweb?roster=${encodeURIComponent(foodWeb)}`} target="_blank">${words.web}</a></p>`}
    </fieldset>`;
}
