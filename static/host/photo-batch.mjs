// Many photos at once: what each shows is guessed by the hub from its file's
// name, and looked through before it is sent.

import { html, useEffect, useRef, useState } from '../vendor/preact-htm.mjs';
import { Field, Message } from '../parts/parts.mjs';
import { photos } from '../words/host.mjs';

const types = ['image/jpeg', 'image/png', 'image/webp'];
const mostBytes = 8 * 1024 * 1024;

// PhotoBatch: onHub(method, address, body) resolves to the hub's answer.
export function PhotoBatch({ onHub, onAdded }) {
  const [rows, setRows] = useState([]); // {file, species, subject, problem}
  const [credit, setCredit] = useState('');
  const [busy, setBusy] = useState(false);
  const [over, setOver] = useState(false);
  const [message, setMessage] = useState('');

  async function take(list) {
    const files = [...list].filter(({ type }) => types.includes(type));
    if (files.length === 0) return setMessage(photos.noFile);
    const { data, message: why } = await onHub('POST', '/photos/names', JSON.stringify({ files: files.map(({ name }) => name) }));
    setMessage(why ?? '');
    if (!data) return undefined;
    return setRows(files.map((file, i) => ({ file, species: data[i].species, subject: data[i].subject, problem: '' })));
  }

  const change = (row, fields) => setRows((now) => now.map((r) => (r === row ? { ...r, ...fields, problem: '' } : r)));

  async function sent({ file, species, subject }) {
    if (!species || !subject) return photos.unclear;
    if (file.size > mostBytes) return photos.tooBig;
    const query = new URLSearchParams({ species, subject, credit });
    const { message: why } = await onHub('POST', `/photos?${query}`, file);
    return why ?? '';
  }

  async function submit(event) {
    event.preventDefault();
    setBusy(true);
    const left = [];
    for (const row of rows) {
      const problem = await sent(row); // one after the other: a phone's link carries no more
      if (problem) left.push({ ...row, problem });
    }
    setBusy(false);
    const added = rows.length - left.length;
    setRows(left);
    await onAdded(added > 0 ? photos.addedAll(added) : '');
  }

  function drop(event) {
    event.preventDefault();
    setOver(false);
    take(event.dataTransfer.files);
  }

  return html`
    <form class=${`drop ${over ? 'over' : ''}`} onSubmit=${submit} onDragOver=${(e) => { e.preventDefault(); setOver(true); }} onDragLeave=${() => setOver(false)} onDrop=${drop}>
      <b>${photos.batch}</b>
      <p class="hint">${photos.batchHint}</p>
      <div class="fields">
        <${Field} id="photos-files" label=${photos.chooseFiles}><input id="photos-files" type="file" multiple accept=${types.join()} onChange=${(e) => take(e.target.files)} /><//>
        <${Field} id="photos-folder" label=${photos.chooseFolder}><input id="photos-folder" type="file" webkitdirectory onChange=${(e) => take(e.target.files)} /><//>
      </div>
      <${Message} text=${message} />
      ${rows.length > 0 && html`
        <ul>${rows.map((row, i) => html`<${Row} key=${i} row=${row} onChange=${(fields) => change(row, fields)} />`)}</ul>
        <${Field} id="photos-credit" label=${photos.credit} hint=${photos.creditHint}>
          <input id="photos-credit" required maxlength="80" autocomplete="off" value=${credit} onInput=${(e) => setCredit(e.target.value)} />
        <//>
        <button type="submit" disabled=${busy}>${busy ? photos.adding : photos.addAll(rows.length)}</button>`}
    </form>`;
}

function Row({ row: { file, species, subject, problem }, onChange }) {
  return html`
    <li>
      <${Thumb} file=${file} />
      <input aria-label=${photos.animalOf(file.name)} list="photo-names" value=${species} autocomplete="off" onInput=${(e) => onChange({ species: e.target.value })} />
      <select aria-label=${photos.subjectOf(file.name)} onChange=${(e) => onChange({ subject: e.target.value })}>
        <option value="" selected=${!subject}>${photos.unsaid}</option>
        ${Object.entries(photos.kinds).map(([kind, label]) => html`<option key=${kind} value=${kind} selected=${kind === subject}>${label}</option>`)}
      </select>
      <span class="file hint">${file.name}</span>
      ${problem && html`<p class="message file" role="alert">${problem}</p>`}
    </li>`;
}

const wide = 160;
const high = 120;

// Thumb is drawn: the pages' policy lets in no image from this device.
function Thumb({ file }) {
  const canvas = useRef(null);
  useEffect(() => {
    createImageBitmap(file, { resizeWidth: wide }).then((image) => {
      canvas.current?.getContext('2d').drawImage(image, 0, (high - image.height) / 2);
      image.close();
    }, () => {}); // the hub says what is wrong with it
  }, [file]);
  return html`<canvas ref=${canvas} width=${wide} height=${high} aria-hidden="true"></canvas>`;
}
