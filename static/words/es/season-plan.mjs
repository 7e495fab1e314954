// The words of the season's plan, in Spanish.

import { count, few, percent } from './basics.mjs';

const days = ['domingo', 'lunes', 'martes', 'miércoles', 'jueves', 'viernes', 'sábado'];
const date = new Intl.DateTimeFormat('es', { weekday: 'short', day: 'numeric', month: 'long', timeZone: 'UTC' });
const day = (iso) => date.format(new Date(iso));
const clock = new Intl.DateTimeFormat('es', { hour: 'numeric', minute: '2-digit', timeZone: 'UTC' });
const items = (n) => count(n, 'cosa que aprender', 'cosas que aprender');
const meetings = (n) => count(n, 'reunión', 'reuniones');

export const seasonPlan = {
  title: 'Plan de la temporada',
  heading: (season) => `Plan de la temporada: ${season}`,
  lead: 'Diga cuándo es el concurso y cuándo se reúne el club. Fieldsign planea qué muestra cada reunión y qué repasa.',
  calendar: 'Descargar calendario (.ics)',
  print: 'Imprimir',
  table: 'Tabla de la temporada',
  percent,
  range: ({ low, high }) => `de ${Math.round(100 * low)} a ${percent(high)}`,
  day,
  counted: (what, n) => `${what}: ${n}`,

  next: (iso) => `Próxima reunión: ${day(iso)}`,
  over: 'No queda ninguna reunión antes del concurso',
  length: (time, minutes) => `${clock.format(new Date(`1970-01-01T${time}Z`))}, ${minutes} minutos`,
  open: 'Abrir el juego de esta reunión',
  again: 'Ir a su juego',
  openHint: 'El juego pregunta por todo lo que sigue y cuenta en esta temporada. Cuando termina, el resto de la temporada se planea de nuevo.',
  fresh: 'Nuevo, para mostrar primero',
  freshHint: 'Muéstrelo con ejemplares propios, o imprima láminas desde la consola del juego.',
  review: 'Para repasar',
  extra: 'Si queda tiempo',
  pairs: 'Parecidos que hay que distinguir',
  pair: (a, b, subject) => `${a} y ${b} (${subject.toLowerCase()})`,

  allFits: (n) => `Antes del concurso se muestra todo: ${items(n)}.`,
  left: (n, of) => `${n} de ${items(of)} no caben antes del concurso`,
  takes: (seconds, n) => `Mostrarlos toma ${Math.ceil(seconds / 60)} minutos más: ${meetings(n)} de la duración usual. O elija una lista más corta.`,
  leftOut: 'Quedan fuera',

  known: (iso) => `Lo que probablemente se sepa el ${day(iso)}`,
  nothingYet: 'Todavía no se ha jugado nada, así que nada se sabe del club. Después del juego de la primera reunión se calcula aquí con sus respuestas.',
  all: 'Todo',
  doubt: 'Las barras muestran los animales que menos se saben; la tabla los tiene todos. La barra es la parte de las respuestas del club que probablemente sea correcta sin adivinar; la línea que la cruza es su duda, en la que estarían 19 de 20 clubes así. Se calcula con un modelo de la memoria y con los análisis de esta temporada, por todo el club y nunca por niño. Ningún club se ha medido contra él.',
  asTable: 'Lo mismo como tabla',
  knownCaption: 'Lo que probablemente se sepa el día del concurso',
  knownColumns: { what: 'Qué', p: 'Se sabe', range: 'Duda' },

  meetings: 'Reuniones',
  meetingsCaption: 'Todas las reuniones hasta el concurso',
  columns: { date: 'Fecha', length: 'Hora', state: 'Estado', about: 'Para qué', papers: 'Hojas', game: 'Juego' },
  papersHint: 'Cada reunión por venir tiene un cuestionario sobre sus animales, la clave y una hoja de estudio de lo nuevo, en PDF. El cuestionario tiene otras preguntas que el juego.',
  paperSize: 'Tamaño del papel',
  papers: { quiz: 'Cuestionario', key: 'Clave', study: 'Hoja de estudio' },
  paperOf: (what, iso) => `${what}, ${day(iso)}`,
  states: { held: 'hecha', missed: 'no se hizo', next: 'próxima', later: 'planeada' },
  strip: { dark: 'nuevo', mid: 'de repaso', light: 'de práctica' },
  about: (a) => few.format([[a.new, 'de nuevo'], [a.review, 'de repaso'], [a.extra, 'de práctica']].filter(([list]) => list.length > 0).map(([list, what]) => `${list.length} ${what}`)) || '–',
  shown: (right, of) => `${percent(right / of)} correctas (${right} de ${of})`,
  debrief: 'Análisis',

  wish: 'Para qué se planea',
  change: 'Cambiar fechas, animales u horas',
  season: 'Nombre de la temporada',
  contest: 'Día del concurso',
  from: 'Primer día para una reunión',
  week: 'El club se reúne los días',
  weekdays: days,
  timeOn: (d) => `El ${days[d]}, empieza a las`,
  minutesOn: (d) => `El ${days[d]}, minutos`,
  off: 'Días sin reunión',
  offFrom: (n) => `${n}. Sin reunión desde`,
  offTo: (n) => `${n}. hasta, inclusive`,
  offMore: 'Añadir días sin reunión',
  offLess: (n) => `Quitar ${n}`,
  roster: 'Animales',
  newSeconds: 'Segundos para mostrar un elemento',
  reviewSeconds: 'Segundos para volver a preguntar',
  double: (n) => (n ? `Animales que cuentan doble: ${n}` : 'Animales que cuentan doble'),
  make: 'Planear la temporada',
  planAnew: 'Planear de nuevo',
};
