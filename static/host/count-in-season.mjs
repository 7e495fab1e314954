// The console's box by which an ended game comes to count in a season.

import { html, useRef, useState } from '../vendor/preact-htm.mjs';
import { Field, Message } from '../parts/parts.mjs';
import { bounds } from '../parts/fields.mjs';
import { club } from '../words/club.mjs';

// CountInSeason: onCount(season) resolves to the hub's reply, with a message if it refuses.
export function CountInSeason({ planned = '', onCount }) {
  const [message, setMessage] = useState('');
  const [counted, setCounted] = useState(planned);
  const input = useRef(null);

  async function submit(event) {
    event.preventDefault();
    const season = input.current.value.trim();
    const problem = season ? (await onCount(season)).message ?? '' : club.emptySeason;
    setMessage(problem);
    if (problem) input.current.focus();
    else setCounted(season);
  }

  if (counted) {
    return html`<p class="results" role="status">${planned ? club.countsIn(counted) : club.counted(counted)} <${SeasonLink} season=${counted} /></p>`;
  }
  return html`
    <form class="count" onSubmit=${submit} novalidate>
      <${Field} id="count-season" label=${club.countInLabel}>
        <input id="count-season" ref=${input} defaultValue=${String(new Date().getFullYear())} maxlength=${bounds.season} autocomplete="off" />
      <//>
      <button type="submit">${club.countIn}</button>
      <${Message} text=${message} />
    </form>`;
}

// SeasonLink opens a tab of its own, which takes the key along.
export function SeasonLink({ season }) {
  return html`<a href=${`/season?season=${encodeURIComponent(season)}`} target="_blank" rel="opener">${club.season}</a>`;
}
