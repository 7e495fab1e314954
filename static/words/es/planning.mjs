// The words of planned questions and question sets, in Spanish.

import { count, few, subjects } from './basics.mjs';

const about = (names) => names.map((s) => (subjects[s] ?? s).toLowerCase()).join(', ');

const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

export const recipes = {
  of: (asked) => sentence(few.format(asked.map((s) => subjects[s].toLowerCase()))),
  title: '¿Qué jugamos?',
  match: 'Lo que pregunta este encuentro',
  instead: 'Preguntar otra cosa',
  titles: { mixed: 'Repaso variado', exam: 'Examen práctico', drawn: 'Solo dibujos', typed: 'Nombres escritos', own: 'Este plan', short: 'Uno corto', match: 'Un encuentro' },
  lines: {
    mixed: '8 preguntas para todos, con opciones, y 6 de pulsador.', exam: '8 estaciones con dibujos o réplicas propias, por reloj.', drawn: '12 preguntas para todos, cada una con un dibujo.',
    typed: '10 preguntas sin opciones, para la última semana antes de un concurso.', short: '5 preguntas para todos, para empezar o terminar.', match: '10 preguntas de pulsador, como entre dos equipos.',
  },
  own: (rounds) => `${count(rounds.length, 'ronda propia', 'rondas propias')}: ${rounds.map((r) => r.name).join(', ')}.`,
  minutes: (least, most) => `De ${least} a ${count(most, 'minuto', 'minutos')}.`,
  names: { buzz: 'El primero en pulsar', exam: 'Estaciones', drawn: 'Por sus dibujos', typed: 'Nómbralo', short: 'Calentamiento', match: 'El primero en pulsar', another: 'Ronda nueva' },
};

export const rosters = {
  title: 'Animales',
  counted: (name, n) => (n ? `${name} · ${n}` : name),
  see: (name) => `Ver quiénes están en «${name}»`,
  web: 'Quién come a quién entre ellos, en un dibujo',
};

export const paper = {
  title: 'En papel',
  hint: 'PDF con las preguntas de este mismo juego, hechos por el servidor. Imprima al 100 % y mida la línea de control.',
  of: 'De qué ronda',
  all: 'Todas las rondas sin estaciones',
  size: 'Papel',
  perPage: 'Láminas por página',
  perPageHint: 'Solo para las láminas: huellas y excretas quedan a tamaño natural; cráneos y rastros de pisadas pueden dibujarse más pequeños. Lo que es demasiado grande para su parte va junto a otras de su tamaño.',
  asManyAsFit: 'Las que quepan a tamaño natural',
  kinds: { quiz: 'Cuestionario', key: 'Clave con razones', cards: 'Tarjetas de estación', sheets: 'Una hoja por equipo', scores: 'Hoja de puntos', plates: 'Láminas de todos los animales', guide: 'Guía de estudio', page: 'Guía de estudio como página web', worksheet: 'Hoja de trabajo', answers: 'Clave de la hoja de trabajo' },
  study: 'Guía de estudio de la lista',
  studyHint: 'Una página por animal: dibujos, medidas con fuentes, lo que lo distingue de todos los demás, los que se le parecen y precauciones; después, claves y glosario. La página web se abre sin red. Todos los animales ocupan unas 300 páginas.',
  made: 'Está entre sus descargas.',
};

export const rounds = {
  title: 'Rondas',
  line: ({ station, count: n, seconds, subjects: of, typed }, kind) =>
    [kind, station ? `${count(station.stations, 'estación', 'estaciones')}, ${seconds} s en cada una` : `${count(n, 'pregunta', 'preguntas')} · ${seconds} s`, typed && 'nombres escritos', of.length < 3 && about(of)].filter(Boolean).join(' · '),
  change: 'Cambiar',
  remove: 'Quitar',
  points: 'Puntos y rapidez',
  drawings: 'Dibujos',
  drawn: { none: 'Ninguno', some: 'Algunos', half: 'En la mitad', all: 'En todas' },
};

export const planning = {
  duration: (least, most) => `Unos ${least} a ${count(most, 'minuto', 'minutos')} en total.`,
  durationHint: 'Una pregunta dura desde un tercio de su tiempo, si todos responden pronto, hasta el tiempo completo; después, de 10 a 40 segundos para la razón y un comentario. Entre rondas se cuenta de medio minuto a minuto y medio.',
  chosen: 'Usted eligió estas preguntas. Si cambia los temas, la cantidad, la dificultad, la lista, la semilla o el idioma, se hacen de nuevo.',
  lost: 'Al guardar se pierden preguntas que usted eligió: se quitó su ronda, o ahora pide otras.',

  seedGuessable: 'Quien tenga este programa puede probar todas las semillas así de pequeñas y, con las primeras preguntas que vea, averiguar las demás. Con 0 se sortea una que nadie puede probar.',

  more: 'Más: título, temporada, semilla',
  language: 'Idioma de las preguntas',
  languageHint: 'Todos los teléfonos y el tablero muestran las preguntas en él. En un teléfono puesto en otro idioma, los botones y los nombres de los animales están en ese.',

  title: 'Preguntas',
  warning: 'La lista muestra todas las claves. ¿Esta pantalla se ve en el proyector o la ve algún equipo? Entonces espere.',
  keysShown: 'Las claves están en esta pantalla. No la proyecte.',
  show: 'Mostrar las preguntas y sus claves',
  saveAndShow: 'Guardar el plan y mostrar sus preguntas y claves',
  hide: 'Ocultarlas',
  round: 'Ronda',
  roundOf: (n, name, questions) => `${n}: ${name} (${count(questions, 'pregunta', 'preguntas')})`,
  roundAt: (n, name, stations) => `${n}: ${name} (${count(stations, 'estación', 'estaciones')})`,
  hintStations: 'Lo que cambia aquí se guarda enseguida. Una pregunta cede su lugar a otra sobre el mismo animal; la que pregunta de quién es el ejemplar recibe otras opciones equivocadas.',
  hint: 'Lo que cambia aquí se guarda enseguida. Alt con las flechas arriba y abajo mueve la pregunta en la que está el foco.',
  question: (n) => `Pregunta ${n}`,
  about: (subject, difficulty) => (difficulty ? `${subject}, dificultad ${difficulty}` : subject),
  typed: 'El nombre se escribe, sin opciones.',
  typedKey: (name) => `Clave: ${name}`,
  noMemory: 'Solo preguntas basadas en fuentes o en la práctica común, nunca solo en la memoria',
  rests: {
    published: 'Se basa en fuentes publicadas que se leyeron.',
    secondary: 'Se basa en fuentes que se leyeron, algunas de las cuales citan a otras.',
    group: 'Se basa en lo que una fuente dice de todo el grupo de animales.',
    absence: 'Se basa en una fuente que nombra a quienes lo tienen y calla de los demás.',
    'common practice': 'Se basa en la práctica común del oficio, sin fuente encontrada.',
    memory: 'Se basa en la memoria: no se leyó ninguna fuente de un dato que la decide. Compruébela antes de usarla.',
  },
  photo: (credit) => `En el juego se muestra su foto en lugar del dibujo. Foto: ${credit}`,
  told: ({ round, question }) => `La razón de la pregunta ${question} de la ronda ${round} dice lo que se pregunta aquí. Cambie una de las dos, o haga esta primero.`,
  replace: 'Cambiar',
  strike: 'Quitar',
  earlier: 'Antes',
  later: 'Después',
  replaceOne: (n) => `Cambiar la pregunta ${n} por otra`,
  strikeOne: (n) => `Quitar la pregunta ${n}`,
  earlierOne: (n) => `Antes: hacer la pregunta ${n} antes de la anterior`,
  laterOne: (n) => `Después: hacer la pregunta ${n} después de la siguiente`,
  replaced: (n) => `La pregunta ${n} ahora es otra.`,
  struck: (n) => `Se quitó la pregunta ${n}.`,
  moved: (n, to) => `La pregunta ${n} ahora es la ${to}.`,

  sets: 'Conjuntos de preguntas',
  setsHint: 'Un conjunto es un archivo con las preguntas de todas las rondas y la forma de jugarlas. Cárguelo en otro juego o imprímalo. Contiene las claves.',
  setName: 'Nombre del conjunto',
  saveSet: 'Guardar como conjunto',
  setSaved: 'El conjunto está en sus descargas. Si el navegador advierte de una descarga por HTTP sin cifrar, elija conservarla.',
  setFile: 'Archivo del conjunto',
  setFileHint: 'Un archivo que se guardó aquí, de hasta 4 MiB. Cada pregunta se comprueba de nuevo.',
  loadSet: 'Cargar este conjunto',
  noFile: 'Elija un archivo.',
  tooBig: 'Este archivo tiene más de 4 MiB, el máximo permitido.',
  confirmLoad: (name) => ({ title: '¿Cargar este conjunto?', text: `El plan de este juego se reemplaza por ${name}.`, yes: 'Cargarlo' }),
  setLoaded: (title) => `Se cargó: ${title}.`,
};
