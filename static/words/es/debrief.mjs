// The words of the debrief, in Spanish.

import { count, locale, number, percent, subjects, teams } from './basics.mjs';

const withDigits = (n) => new Intl.NumberFormat(locale, { minimumFractionDigits: n, maximumFractionDigits: n });
const [oneDigit, twoDigits] = [withDigits(1), withDigits(2)];
const decimal = (x) => (x === null ? '–' : twoDigits.format(x).replace('-', '−'));
const seconds = (ms) => (ms === null ? '–' : `${oneDigit.format(ms / 1000)}\u00a0s`);
const date = (day) => new Intl.DateTimeFormat(locale, { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(`${day}T00:00:00Z`));

export const debrief = {
  title: 'Análisis',
  heading: (title) => `Análisis: ${title}`,
  where: (r) => `Juego ${r.code}, ${date(r.date)}. ${r.ended ? 'Terminado.' : 'No ha terminado: las cifras son las de este momento.'}`,
  codeLabel: 'Mostrar su análisis',
  cannotRead: 'El servidor no envió el análisis. Inténtelo de nuevo; si sigue igual, mire su registro.',
  toConsole: 'Ir a la consola de dirección',
  save: 'Descargar resultados (CSV)',
  print: 'Imprimir',
  reload: 'Poner al día',
  nothing: 'Todavía no se ha cerrado ninguna pregunta. Vuelva después de la primera.',
  percent,
  decimal,
  seconds,
  interval: (s) => (s.of ? `${percent(s.low)} a ${percent(s.high)}` : '–'),
  outOf: (s) => `${number.format(s.right)} de ${number.format(s.of)}`,
  undefined: '– quiere decir que una cifra no está definida: no se le preguntó a nadie, o a todos les fue igual.',

  wereRight: (s, n) => `de todas las respuestas fue correcto: ${number.format(s.right)} de ${number.format(s.of)}.${n < 10 ? ' Jugaron pocos equipos: tómelo como indicio.' : ''}`,
  hardest: (n) => `La pregunta ${n}`,
  wasHardest: (s) => (s.right === 0 ? 'fue la más difícil; no la supo nadie:' : `fue la más difícil, correcta ${s.right} de ${s.of} veces:`),
  isWeakest: (s) => `es el rasgo más flojo, correcto ${s.right} de ${s.of} veces.`,
  lookAt: 'Miren estos pares la próxima vez',
  mixedUp: (p) => `confundidos ${p.times} de ${p.of} veces`,
  known: 'Lo que sabía el grupo',
  printStudy: 'Imprimir una hoja de estudio',
  studyTitle: (title) => `Para estudiar después de «${title}»`,
  studyMissed: 'Preguntas que muchos fallaron',
  allQuestions: (n) => `${n === 1 ? 'La pregunta' : `Las ${n} preguntas`}, con respuestas y tiempos`,
  eachTeam: 'Cada equipo',
  statistics: 'Estadística (fiabilidad, discriminación, intervalos)',
  reliabilityMeans: 'La fiabilidad dice con qué seguridad quedarían los equipos en el mismo orden con otras preguntas como estas: con mucha cerca de 1, por azar cerca de 0. El error estándar de medida es cuántos aciertos puede deberle un resultado a la suerte.',
  range: (s) => `Si hubieran jugado otros equipos como estos, la proporción estaría probablemente entre ${percent(s.low)} y ${percent(s.high)} (intervalo de Wilson del 95\u00a0%).`,
  reliability: (t) => `Fiabilidad (KR-20): ${decimal(t.kr20)}. Media de ${decimal(t.mean)} aciertos de ${t.items}, desviación estándar ${decimal(t.sd)}, error estándar de medida ${decimal(t.sem)}. Solo rondas abiertas.`,
  caution: 'Cuidado',

  heat: 'Quién sabía qué',
  heatAlt: (teamCount, questions) => `Imagen con ${teams(teamCount)} en filas y ${count(questions, 'pregunta', 'preguntas')} en columnas; la tabla de abajo dice lo mismo.`,
  marks: { right: 'correcta', wrong: 'incorrecta', none: 'sin respuesta', '': 'no le tocaba' },
  heatCaption: 'Respuestas de cada equipo, por pregunta',
  trimmed: 'Con tantos equipos, las respuestas no se muestran una por una. Todas están en los resultados (CSV).',
  timeline: 'Cuándo se respondió',
  timelineAlt: 'Imagen del tiempo del juego de izquierda a derecha, con una línea por pregunta; los tiempos están en la tabla de preguntas.',
  timelineHint: 'Minutos y segundos desde que se abrió la primera pregunta. Una línea por pregunta, desde que se abrió. La barra abarca la mitad central de las respuestas; el trazo en ella es la mediana.',
  clock: (ms) => `${Math.floor(ms / 60_000)}:${String(Math.round(ms / 1000) % 60).padStart(2, '0')}`,

  questionsCaption: 'Qué tan difícil fue cada pregunta y cuánto distinguió a los equipos',
  columns: { question: 'Pregunta', right: 'Aciertos (intervalo del 95 %)', discrimination: 'Discriminación', picks: 'Elecciones', time: 'Tiempo mediano', note: 'Revisar' },
  number: (q) => `${q.round + 1}.${q.number + 1}`,
  discriminationHint: 'La discriminación es la correlación de un acierto con los demás aciertos del equipo. Más de 0.2 es lo usual en una buena pregunta; por debajo de 0, la fallaron los mejores equipos.',
  statuses: { void: 'Anulada: no cuenta', unclosed: 'Todavía abierta' },
  flags: {
    negative: 'La fallaron los mejores equipos: revise la clave y la redacción.',
    nobody: 'Nadie acertó: revise la clave.',
    everybody: 'Todos acertaron.',
  },
  spoken: (n) => `de viva voz: ${number.format(n)}`,

  taken: 'Qué se tomó por qué',
  takenCaption: (subject, of) => `${subjects[subject] ?? subject}: ${of === 'traits' ? 'afirmaciones' : 'animales y términos'}`,
  takenColumns: { key: 'Era', taken: 'se tomó por', count: 'Veces', of: 'de' },
  noneTaken: 'Nada se tomó por otra cosa.',
  more: (n) => `y ${count(n, 'más, menos frecuente', 'más, menos frecuentes')}, en los resultados (CSV)`,
  pairsCaption: 'Confundidos más a menudo de lo que explica el azar',
  pairColumns: { pair: 'Par', share: 'Confundidos (intervalo del 95 %)', expected: 'Por azar' },
  pair: (p) => `${p.a} / ${p.b}`,
  noPairs: 'No hubo dos que se confundieran más a menudo de lo que explica el azar.',

  teamsCaption: 'Qué sabe cada equipo y qué le conviene practicar',
  teamColumns: { team: 'Equipo', right: 'Aciertos (intervalo del 95 %)', strong: 'Fuerte', weak: 'Débil' },
  neither: 'muy pocas respuestas para decirlo',
  topicsCaption: 'Rasgos, el más flojo primero',
  topicColumns: { trait: 'Rasgo', questions: 'Preguntas', right: 'Aciertos (intervalo del 95 %)' },

  nextHint: 'Un juego nuevo con las mismas rondas: los temas, rasgos y animales más flojos se preguntan más, y una de cada tres preguntas compara un par que se confundió, mientras haya tales pares. El plan se puede cambiar antes de empezar.',
  plan: 'Planear con esto el próximo juego',
  cannotPlan: 'El servidor no planeó el juego. Inténtelo de nuevo; si sigue igual, mire su registro.',
};
