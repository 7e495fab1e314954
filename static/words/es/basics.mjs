// What several groups of Spanish words are made of.

export const locale = 'es-419';
export const number = new Intl.NumberFormat(locale, { useGrouping: false });
export const count = (n, one, many) => `${number.format(n)} ${n === 1 ? one : many}`;
export const teams = (n) => count(n, 'equipo', 'equipos');
export const few = new Intl.ListFormat(locale);
export const whole = (x) => String(Math.round(x));
export const percent = (p) => (p === null ? '–' : `${Math.round(100 * p)}\u00a0%`);
export const subjects = { skull: 'Cráneos', track: 'Huellas', scat: 'Excretas', sign: 'Señales', foodweb: 'Red alimentaria', management: 'Manejo de fauna', specimen: 'Pieles, astas y cuernos' };
