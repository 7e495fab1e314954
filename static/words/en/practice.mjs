// The words of practice alone, in English.

import { count } from './basics.mjs';

export const practice = {
  title: 'Practise alone',
  lead: 'Flash questions. What you miss comes back soon, what you know comes back later.',
  kept: 'What you have learned is kept on this device alone. Nothing is sent to anyone.',
  notKept: 'This browser keeps nothing for this page: what you learn is forgotten when you close it. Opening the page in another browser may help.',
  offline: 'This page is kept on this device and opens without the hub.',
  roster: 'Animals',
  rosterIs: (name) => `Animals: ${name}`,
  noSubject: 'Choose at least one subject.',
  now: (due, fresh, resting) => `${due} to go over now, ${fresh} not met yet, ${resting} known for now.`,
  start: 'Start',
  ahead: 'Practise on before it is due',
  known: 'How well you remember',
  weakFirst: 'Weakest first',
  animal: 'Animal',
  facts: 'Facts met',
  due: 'Due',
  memory: 'Memory',
  factsOf: (n, of) => `${n} of ${of}`,
  levels: { weak: 'weak', fair: 'fair', strong: 'strong' },
  level: (word, span) => `${word}, ${span}`,
  levelHint: 'The time after which nine of ten such facts are still remembered, on average: weak below 3 days, strong from 30 days on.',
  terms: 'Words of the trade',
  noneYet: 'Nothing answered yet.',
  pick: 'Choose an answer: tap it, or press its letter.',
  sitting: (right, of) => `${right} of ${of} right so far`,
  yours: 'your answer',
  place: (n, of, right) => `Question ${n} of ${of}, ${right} right`,
  summary: (right, of) => `${right} of ${of} right`,
  allRight: 'All of them. Well done.',
  lookAgain: 'Look at these again',
  comesBack: 'What you missed comes back soon, what you knew later.',
  more: 'Ten more',
  goOver: (n) => `Go over what you missed (${n})`,
  verdict: (right) => (right ? 'Right' : 'Not right'),
  again: (span) => `You will be asked about this again in ${span}.`,
  againSoon: 'You will be asked about this again soon.',
  next: 'Next',
  stop: 'Stop',
  done: 'Nothing is due now',
  doneMore: (span) => `The next fact is due in ${span}. Coming back then helps more than going on.`,
  span(ms) {
    const minutes = Math.max(1, Math.round(ms / 60_000));
    if (minutes < 90) return count(minutes, 'minute', 'minutes');
    if (minutes < 22 * 60) return count(Math.round(minutes / 60), 'hour', 'hours');
    return count(Math.round(minutes / 1440), 'day', 'days');
  },
  save: 'Save this page',
  saveHint: 'One file with the questions of this roster inside (about 2 MB). It opens in a browser without any network. It keeps what you learn apart from this page.',
  reset: 'Forget all I have learned',
  confirmReset: { title: 'Forget all you have learned?', text: 'Every fact of every roster counts as new again on this device. This cannot be taken back.', yes: 'Forget it all' },
  notHere: (name) => `The roster ${name} is not on this device, and the hub did not answer. Come back to the hub’s network and try again, or choose another roster.`,
  cannotLoad: 'The questions did not come',
  otherRoster: 'Take the usual roster',
};
