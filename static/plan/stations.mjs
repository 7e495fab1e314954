// The plan of a station round.

import { html } from '../vendor/preact-htm.mjs';
import { Choice, Count, bounds, drawnSubjects, Subjects, Text } from '../parts/fields.mjs';
import { host } from '../words/host.mjs';
import { station } from '../words/station.mjs';

const usual = { count: 3, seconds: 120, speed: 0, penalty: 0, typed: false, station: { stations: 8, walk: 30, replicas: [] } };
const usualElsewhere = { count: 8, seconds: 30, station: undefined };

// kindFields are what a round needs changed when its kind is.
export function kindFields(round, kind) {
  if (kind === 'station') return { kind, ...usual };
  return round.kind === 'station' ? { kind, ...usualElsewhere } : { kind };
}

export function StationFields({ n, round, field, onEdit, kind }) {
  const id = (name) => `round-${n}-${name}`;
  const own = round.station;
  const edit = (fields) => onEdit({ station: { ...own, ...fields } });
  return html`
    <div class="fields">
      <${Text} label=${host.roundName} ...${field('name')} />
      ${kind}
      <${Choice} label=${host.difficulty} choices=${host.difficulties.map((text, i) => [i, text])} ...${field('difficulty')}
        onValue=${(value) => onEdit({ difficulty: Number(value) })} />
      <${Count} id=${id('stations')} label=${station.count} min=${bounds.leastStations} max=${bounds.stations} value=${own.stations} onValue=${(stations) => edit({ stations })} />
      <${Count} label=${station.each} min="1" max=${bounds.each} ...${field('count')} />
      <${Count} label=${station.seconds} min=${bounds.leastSeconds} max=${bounds.seconds} ...${field('seconds')} />
      <${Count} id=${id('walk')} label=${station.walkSeconds} max=${bounds.seconds} value=${own.walk} onValue=${(walk) => edit({ walk })} />
      <${Count} label=${host.pointsEach} min="1" max=${bounds.points} ...${field('points')} />
    </div>
    <${Subjects} id=${id('subjects')} offered=${drawnSubjects} chosen=${round.subjects} onValue=${(subjects) => onEdit({ subjects })} />
    <${Replicas} id=${id('replica')} list=${own.replicas} most=${own.stations} onValue=${(replicas) => edit({ replicas })} />`;
}

function Replicas({ id, list, most, onValue }) {
  const change = (i, fields) => onValue(list.map((r, j) => (j === i ? { ...r, ...fields } : r)));
  const free = Array.from({ length: Number(most) || 0 }, (_, i) => i + 1).find((n) => !list.some((r) => r.station === n));
  return html`
    <div role="group" aria-labelledby=${id} class="replicas">
      <b id=${id}>${station.replicas}</b>
      <p class="hint">${station.replicasHint}</p>
      ${list.map((r, i) => html`
        <div class="fields" key=${i}>
          <${Count} id=${`${id}-${i}-station`} label=${station.replicaAt} min="1" max=${most} value=${r.station} onValue=${(n) => change(i, { station: n })} />
          <${Text} id=${`${id}-${i}-animal`} label=${station.animal} value=${r.animal} onValue=${(animal) => change(i, { animal })} />
          <${Choice} id=${`${id}-${i}-subject`} label=${station.subject} value=${r.subject} choices=${Object.entries(station.subjects)}
            onValue=${(subject) => change(i, { subject })} />
          <button type="button" onClick=${() => onValue(list.filter((_, j) => j !== i))}>${station.removeReplica(r.station)}</button>
        </div>`)}
      <button type="button" disabled=${!free} onClick=${() => onValue([...list, { station: free, animal: '', subject: 'skull' }])}>${station.addReplica}</button>
    </div>`;
}
