// What a host chooses from before anything else: whole plans, each with a name,
// a line and a drawing.

import { html, useRef } from '../vendor/preact-htm.mjs';
import { hub } from '../words/common.mjs';
import { recipes as words } from '../words/planning.mjs';
import { bounds, usualSubjects } from '../parts/fields.mjs';
import { durationOf } from './duration.mjs';

const round = { kind: 'open', subjects: usualSubjects, count: 8, seconds: 30, points: 100, speed: 50, penalty: 0, wait: 250, difficulty: 0, typed: false };
const { names } = words;

// nameOf is what a round is called that nobody has named: its subjects, as long as
// they fit.
export function nameOf(subjects) {
  const name = words.of(subjects);
  return subjects.length > 0 && name.length <= bounds.title ? name : words.titles.mixed;
}

export const newRound = { ...round, name: names.another };

// Recipes: a drawing by its name at the hub, and the rounds. One that is drawn
// needs a hub that plans by wishes for drawings.
const recipes = [
  { id: 'mixed', spot: 'fox-skull', rounds: [{ ...round, name: nameOf(usualSubjects) }, { ...round, name: names.buzz, kind: 'buzz', count: 6, speed: 0 }] },
  { id: 'exam', spot: 'raccoon-print', rounds: [{ ...round, name: names.exam, kind: 'station', count: 3, seconds: 120, speed: 0, station: { stations: 8, walk: 30, replicas: [] } }] },
  { id: 'drawn', spot: 'coyote-scat', drawn: true, rounds: [{ ...round, name: names.drawn, count: 12, drawings: 'all' }] },
  { id: 'typed', spot: 'beaver-skull', rounds: [{ ...round, name: names.typed, count: 10, seconds: 45, typed: true }] },
  { id: 'short', spot: 'otter-print', rounds: [{ ...round, name: names.short, count: 5, seconds: 20 }] },
  { id: 'match', spot: 'bobcat-print', rounds: [{ ...round, name: names.match, kind: 'buzz', count: 10, seconds: 20, speed: 0 }] },
];

// A host may call a round otherwise and still play by the recipe.
const bare = (rounds) => JSON.stringify(rounds.map((r) => Object.entries({ ...round, ...r, name: '', set: undefined, drawings: r.drawings ?? 'half' })
  .filter(([, value]) => value !== undefined).sort(([a], [b]) => (a < b ? -1 : 1))));

// useOwn is the last stored plan that is no recipe's, such as a meeting's or a set's:
// it can be gone back to while the page is open, after another one was stored too.
function useOwn({ title, rounds }) {
  const own = useRef(null);
  if (rounds.length > 0 && !recipes.some((r) => bare(r.rounds) === bare(rounds))) own.current = { id: 'own', title: hub.title(title) || words.titles.own, line: words.own(rounds), rounds };
  return own.current;
}

// Recipes: stored is the hub's plan, drawings tells whether this hub knows how many
// questions are to have one, complete(round) is one of a recipe for this hub.
export function Recipes({ rounds, stored, drawings, complete, onRounds }) {
  const now = bare(rounds);
  const own = useOwn(stored);
  return html`
    <ul class="recipes">
      ${own && html`<${Recipe} recipe=${own} chosen=${bare(own.rounds) === now} onRounds=${onRounds} />`}
      ${recipes.filter((r) => drawings || !r.drawn).map((recipe) => html`<${Recipe} key=${recipe.id} recipe=${recipe} chosen=${bare(recipe.rounds) === now} onRounds=${(list) => onRounds(list.map(complete))} />`)}
    </ul>`;
}

function Recipe({ recipe: { id, spot, rounds, title = words.titles[id], line = words.lines[id] }, chosen, onRounds }) {
  const { least, most } = durationOf(rounds);
  return html`
    <li>
      <button type="button" class="recipe" aria-pressed=${chosen} onClick=${() => onRounds(rounds)}>
        ${spot && html`<img src=${`/spot/${spot}`} alt="" loading="lazy" />`}
        <b>${title}</b>
        <span>${line} ${words.minutes(least, most)}</span>
      </button>
    </li>`;
}
