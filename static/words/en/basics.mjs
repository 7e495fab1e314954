// What several groups of English words are made of.

export const count = (n, one, many) => `${n} ${n === 1 ? one : many}`;
export const teams = (n) => count(n, 'team', 'teams');
export const few = new Intl.ListFormat('en');
export const whole = (x) => String(Math.round(x));
export const percent = (p) => (p === null ? '–' : `${Math.round(100 * p)}\u00a0%`);
export const subjects = { skull: 'Skulls', track: 'Tracks', scat: 'Scat', sign: 'Signs', foodweb: 'Food web', management: 'Management', specimen: 'Pelts and head gear' };
