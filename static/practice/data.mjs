// Where the practice page's questions come from and where its progress stays:
// nothing here sends anything but the name of a roster.

import { nothing, restored } from './memory.mjs';
import { language } from '../lib/language.mjs';
import { lasting } from '../lib/storage.mjs';
import { hub, joining } from '../words/common.mjs';
import { practice } from '../words/practice.mjs';

const progressKey = 'fieldsign.practice.fsrs';
const beforeKey = 'fieldsign.practice'; // a tab left open since before November 2026 still writes there
const choiceKey = 'fieldsign.practice.choice';
const keptData = 'fieldsign-practice-data';
const patience = 8_000; // for the hub, before what is kept is taken
const noHurry = 60_000; // where nothing is kept: a slow laptop takes a while over a roster's first exercise
const attempts = 4; // where the hub is busy
const busyWait = 2_000;

// saved is the exercise of a page that was saved with its questions inside.
const saved = document.getElementById('exercise');
export const isSaved = saved !== null;

// remembers tells whether the browser keeps anything for this page.
export const remembers = (() => {
  try {
    localStorage.setItem('fieldsign.try', '1');
    localStorage.removeItem('fieldsign.try');
    return true;
  } catch {
    return false;
  }
})();

// load resolves to {exercise} or {problem}.
export async function load(roster) {
  if (isSaved) return { exercise: JSON.parse(saved.textContent) };
  const address = `/practice.json?${new URLSearchParams({ ...(roster && { roster }), lang: language })}`;
  try {
    const answer = await ask(address, (await keptAnswer(address)) ? patience : noHurry);
    const exercise = await answer.clone().json();
    if (!answer.ok) return { problem: hub.refused(exercise) };
    await keepData(address, answer);
    return { exercise };
  } catch {
    const kept = await keptAnswer(address);
    return kept ? { exercise: await kept.json() } : { problem: roster ? practice.notHere(roster) : joining.unreachable };
  }
}

async function ask(address, wait) {
  for (let n = 1; ; n++) {
    const answer = await fetch(address, { signal: AbortSignal.timeout(wait) });
    if (answer.status !== 429 || n === attempts) return answer;
    await new Promise((resolve) => setTimeout(resolve, busyWait * (1 + Math.random())));
  }
}

// The browser has a cache only where it has service workers too.
async function keepData(address, answer) {
  try { await (await globalThis.caches?.open(keptData))?.put(address, answer); } catch { /* full or denied: works while the hub does */ }
}

async function keptAnswer(address) {
  try { return await (await globalThis.caches?.open(keptData))?.match(address); } catch { return undefined; }
}

// worksOffline resolves once the page and its questions are kept; false where they can't be.
export async function worksOffline() {
  if (isSaved || !navigator.serviceWorker) return false;
  try {
    await navigator.serviceWorker.register('/practice-worker.mjs', { scope: '/practice', updateViaCache: 'none' });
    await navigator.serviceWorker.ready;
    return true;
  } catch {
    return false;
  }
}

export const progress = {
  read: (now) => restored(lasting.get(progressKey) ?? lasting.get(beforeKey), now),
  // change works on what is stored now, since another tab may have stored since.
  change(how, now) {
    const memory = how(progress.read(now));
    lasting.set(progressKey, JSON.stringify(memory));
    return memory;
  },
  forget() {
    lasting.drop(progressKey);
    lasting.drop(beforeKey);
    return nothing;
  },
};

// The chosen roster and subjects.
export const choice = {
  read() {
    try {
      const { roster, subjects } = JSON.parse(lasting.get(choiceKey));
      return { roster: typeof roster === 'string' ? roster : '', subjects: Array.isArray(subjects) ? subjects : null };
    } catch {
      return { roster: '', subjects: null };
    }
  },
  write: (chosen) => lasting.set(choiceKey, JSON.stringify(chosen)),
};
