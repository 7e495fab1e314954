// The host's photos: a list, and a form that adds one. They are listed in words
// alone, since an image's own request would not carry the host key.

import { html, useRef, useState } from '../vendor/preact-htm.mjs';
import { Field, Message } from '../parts/parts.mjs';
import { PhotoBatch } from './photo-batch.mjs';
import { named } from '../lib/species.mjs';
import { photos } from '../words/host.mjs';

const mostBytes = 8 * 1024 * 1024;
const types = 'image/jpeg,image/png,image/webp';

// Photos: onHub(method, address, file) resolves to the hub's answer,
// onAsk(dialog) asks the host first.
export function Photos({ onHub, onAsk }) {
  const [list, setList] = useState({ photos: [], species: [] });
  const [message, setMessage] = useState({ text: '' });
  const say = (text, good = false) => setMessage({ text, good });

  async function load(said = '') {
    const { data, message: why } = await onHub('GET', '/photos');
    say(why ?? said, !why);
    if (data) setList(data);
  }

  async function remove(photo) {
    const { message: why } = await onHub('DELETE', `/photos/${encodeURIComponent(photo.id)}`);
    if (why) say(why);
    else await load();
  }

  return html`
    <details class="photos" onToggle=${(event) => event.target.open && load()}>
      <summary>${photos.title}</summary>
      <p class="hint">${photos.lead}</p>
      <${PhotoBatch} onHub=${onHub} onAdded=${load} />
      <${PhotoForm} species=${list.species} onHub=${onHub} onAdded=${load} onMessage=${say} />
      <${Message} ...${message} />
      ${list.photos.length === 0 ? html`<p>${photos.none}</p>` : html`
        <ul>${list.photos.map((p) => html`<${PhotoRow} key=${p.id} photo=${p} onRemove=${() => remove(p)} onAsk=${onAsk} />`)}</ul>`}
    </details>`;
}

function PhotoRow({ photo, onRemove, onAsk }) {
  const line = photos.line(named(photo.vernacular), photos.kinds[photo.subject], photo.credit);
  return html`
    <li>
      <span>${line}</span>
      <button type="button" aria-label=${photos.removeOne(line)} onClick=${() => onAsk({ ...photos.confirm(line), go: onRemove })}>${photos.remove}</button>
    </li>`;
}

function PhotoForm({ species, onHub, onAdded, onMessage }) {
  const form = useRef(null);
  const [busy, setBusy] = useState(false);

  async function submit(event) {
    event.preventDefault();
    const { species: name, subject, credit, file } = form.current.elements;
    const [chosen] = file.files;
    if (!chosen) return onMessage(photos.noFile);
    if (chosen.size > mostBytes) return onMessage(photos.tooBig);
    setBusy(true);
    onMessage(photos.adding);
    const query = new URLSearchParams({ species: name.value, subject: subject.value, credit: credit.value });
    const { data, message: why } = await onHub('POST', `/photos?${query}`, chosen);
    setBusy(false);
    if (why) return onMessage(why);
    file.value = '';
    return onAdded(photos.added(named(data.vernacular), photos.kinds[data.subject]));
  }

  return html`
    <form ref=${form} onSubmit=${submit}>
      <div class="fields">
        <${Field} id="photo-species" label=${photos.species} hint=${photos.speciesHint}>
          <input id="photo-species" name="species" list="photo-names" required autocomplete="off" aria-describedby="photo-species-hint" />
          <datalist id="photo-names">${species.map((s) => html`<option key=${s.name} value=${s.vernacular}>${s.name}</option>`)}</datalist>
        <//>
        <${Field} id="photo-subject" label=${photos.subject} hint=${photos.subjectHint}>
          <select id="photo-subject" name="subject" aria-describedby="photo-subject-hint">
            ${Object.entries(photos.kinds).map(([subject, label]) => html`<option key=${subject} value=${subject}>${label}</option>`)}
          </select>
        <//>
        <${Field} id="photo-credit" label=${photos.credit} hint=${photos.creditHint}>
          <input id="photo-credit" name="credit" required maxlength="80" autocomplete="off" aria-describedby="photo-credit-hint" />
        <//>
        <${Field} id="photo-file" label=${photos.file} hint=${photos.fileHint}>
          <input id="photo-file" name="file" type="file" accept=${types} aria-describedby="photo-file-hint" />
        <//>
      </div>
      <button type="submit" disabled=${busy}>${photos.add}</button>
    </form>`;
}
