// Every word the pages show, in Spanish as schools of Latin America write it.
// Pupils are addressed as "tú", whoever runs a game as "usted". The keys, and
// what each function takes, are those of the English file.

const locale = 'es-419';
const number = new Intl.NumberFormat(locale, { useGrouping: false });
const few = new Intl.ListFormat(locale);
const span = (unit, unitDisplay = 'long') => new Intl.NumberFormat(locale, { style: 'unit', unit, unitDisplay });
const [shortSeconds, minutesOf, hoursOf, daysOf] = [span('second', 'short'), span('minute'), span('hour'), span('day')];
const withDigits = (n) => new Intl.NumberFormat(locale, { minimumFractionDigits: n, maximumFractionDigits: n });
const [oneDigit, twoDigits] = [withDigits(1), withDigits(2)];

const count = (n, one, many) => `${number.format(n)} ${n === 1 ? one : many}`;
const teams = (n) => count(n, 'equipo', 'equipos');
const between = (names) => (names.length > 4 ? teams(names.length) : few.format(names));
const points = (n) => count(n, 'punto', 'puntos');

export * from './es-club.mjs';
export * from './es-keeping.mjs';
export * from './es-planning.mjs';
export * from './es-station.mjs';
export * from './es-tournament.mjs';

export const common = {
  name: 'Fieldsign',
  letters: 'ABCDE',
  right: '✓',
  wrong: '✗',
  key: 'la clave',
  teams,
  points,
  picks: (n) => `elegida: ${number.format(n)}`,
  round: (r) => `Ronda ${r.n} de ${r.of}: ${r.name}`,
  question: (q, r) => `Pregunta ${q.n} de ${r.questions}`,
  seconds: (n) => shortSeconds.format(n),
  photoBy: (credit) => `Foto: ${credit}`,
  timeUp: 'Se acabó el tiempo',
  timeLeft: 'Tiempo que queda',
  reason: 'Razón',
  skipped: 'Esta pregunta se saltó. No cuenta para nada.',
  undone: 'Este veredicto fue retirado por quien dirige.',
  drawn: (names) => `Demasiado juntos para distinguirlos: el turno se sorteó entre ${between(names)}.`,
  rank: 'Puesto',
  team: 'Equipo',
  score: 'Puntos',
  rightAnswers: 'Aciertos',
  tieRule: 'A igual puntaje, primero más aciertos, luego menos tiempo en ellos; si no, se comparte el puesto.',
  paused: 'En pausa',
  lost: 'Se perdió la conexión. Vuelve por sí sola…',
  connecting: 'Conectando…',
  tryAgain: 'Intentar de nuevo',
  toStart: 'Ir a la página inicial',
  subjects: { skull: 'Cráneos', track: 'Huellas', scat: 'Excretas' },
  kinds: { open: 'Ronda abierta', buzz: 'Ronda de pulsador' },
};

export const landing = {
  lead: 'Rondas de repaso con tiempo sobre cráneos, huellas y excretas de animales silvestres.',
  codeLabel: 'Código de acceso',
  codeHint: 'Dos palabras en inglés y dos cifras, como otter-burrow-42. Lo muestra quien dirige.',
  join: 'Entrar',
  noCode: 'Escribe el código de acceso que muestra quien dirige.',
  unreachable: 'El servidor no respondió. Revisa que este aparato esté en la misma red e inténtalo de nuevo.',
  host: 'Dirigir un juego',
  hostHint: 'Planear las rondas y llevarlas. Hace falta la clave de dirección.',
  board: 'Mostrar el tablero',
  boardHint: 'La pantalla común, para un proyector.',
  practice: 'Practicar a solas',
  practiceHint: 'Preguntas sueltas, espaciadas según lo que recuerdas. Sin juego, sin nombre y sin cuenta.',
  caution: 'Practica con réplicas y moldes; lávate las manos; no recojas partes de animales silvestres sin los permisos que pide la autoridad local.',
};

export const team = {
  chooseName: 'Pónganle nombre a su equipo',
  nameLabel: 'Nombre del equipo',
  nameHint: 'Un apodo de hasta 24 letras. Sin nombres reales, por favor.',
  another: 'Otro',
  join: 'Entrar',
  emptyName: 'Escribe un nombre para el equipo.',
  joined: (name) => `Ya están dentro, ${name}.`,
  wait: 'El juego comienza cuando estén todos los equipos.',
  here: (n) => `Por ahora: ${teams(n)}.`,
  typePrompt: 'Escribe tu respuesta. Cuenta la primera.',
  typeLabel: 'El animal',
  typeHint: 'Su nombre común o científico, en español o en inglés. Se perdona un pequeño error de ortografía.',
  send: 'Enviar',
  typed: (name) => `Tu respuesta: ${name}`,
  pick: 'Toca tu respuesta. Cuenta la primera.',
  paused: 'El reloj está detenido. Espera a quien dirige.',
  sending: 'Enviando…',
  sent: 'Respuesta enviada',
  sentMore: (n, of) => `Respondieron ${number.format(n)} de ${teams(of)}.`,
  yours: 'tu respuesta',
  buzz: 'Pulsar',
  buzzHint: 'Primero pulsa, después responde.',
  buzzing: 'Pulsación enviada…',
  youHold: 'Es tu turno: responde',
  holds: (name) => `Responde ${name}`,
  holdsMore: 'Si se equivoca, la pregunta se abre de nuevo para los demás.',
  locked: 'Sin más turno en esta pregunta',
  lockedMore: 'Los demás todavía pueden pulsar.',
  verdicts: { right: 'Correcto', wrong: 'Incorrecto', none: 'Sin respuesta de tu equipo' },
  gained: (n) => (n < 0 ? `${points(-n)} menos` : `${points(n)} más`),
  standing: (rank, score) => `Puesto ${rank}, ${points(score)}`,
  afterRound: 'La ronda terminó',
  over: 'El juego terminó',
  firstFive: 'Los cinco primeros',
  removedTitle: 'Equipo retirado',
  removed: 'Quien dirige sacó a este equipo del juego. Pregúntale, o entra de nuevo con otro nombre.',
  joinAgain: 'Entrar de nuevo',
  replacedTitle: 'Otro aparato tomó el lugar',
  replaced: 'Tu equipo está jugando en otro aparato.',
  useThis: 'Jugar en este aparato',
};

export const board = {
  typed: 'Escriban el nombre del animal en el teléfono.',
  title: 'Tablero',
  open: 'Abran',
  enter: 'y escriban el código de acceso',
  scan: 'o escaneen este código',
  qrAlt: 'Código QR del enlace para entrar',
  noTeams: 'Todavía ningún equipo',
  answered: (n, of) => `Respondieron ${number.format(n)} de ${number.format(of)}`,
  free: 'Se puede pulsar',
  holds: (name) => `Responde ${name}`,
  locked: (n) => `${teams(n)} sin más turno`,
  afterRound: (r) => `Tras la ronda ${r.n} de ${r.of}`,
  final: 'Resultado final',
  showCode: 'Mostrar el tablero de este juego',
};

export const practice = {
  title: 'Practicar a solas',
  lead: 'Preguntas sueltas. Lo que fallas vuelve pronto, lo que sabes vuelve más tarde.',
  kept: 'Lo que aprendes se guarda solo en este aparato. No se le envía nada a nadie.',
  notKept: 'Este navegador no guarda nada de esta página: lo que aprendes se olvida al cerrarla. Abrirla en otro navegador puede servir.',
  offline: 'Esta página está guardada en este aparato y se abre sin el servidor.',
  roster: 'Lista de especies',
  rosterIs: (name) => `Lista de especies: ${name}`,
  noSubject: 'Elige al menos un tema.',
  now: (due, fresh, resting) => `Por repasar: ${count(due, 'dato', 'datos')}; nuevos: ${number.format(fresh)}; en reposo: ${number.format(resting)}.`,
  start: 'Empezar',
  ahead: 'Seguir antes de que toque',
  known: 'Qué tan bien lo recuerdas',
  weakFirst: 'Lo más flojo primero',
  animal: 'Animal',
  facts: 'Datos vistos',
  due: 'Por repasar',
  memory: 'Memoria',
  factsOf: (n, of) => `${number.format(n)} de ${number.format(of)}`,
  levels: { weak: 'débil', fair: 'regular', strong: 'fuerte' },
  level: (word, span) => `${word}, ${span}`,
  levelHint: 'El tiempo tras el cual un dato se olvida o se recuerda con igual probabilidad, en promedio: débil por debajo de 2 días, fuerte desde 8 días.',
  terms: 'Palabras del oficio',
  noneYet: 'Todavía no has respondido nada.',
  pick: 'Elige una respuesta: tócala o presiona su letra.',
  sitting: (right, of) => `${number.format(right)} de ${number.format(of)} bien hasta ahora`,
  yours: 'tu respuesta',
  verdict: (right) => (right ? '✓ Correcto' : '✗ Incorrecto'),
  again: (span) => `Se te preguntará de nuevo dentro de ${span}.`,
  againSoon: 'Se te preguntará de nuevo pronto.',
  next: 'Siguiente',
  stop: 'Parar',
  done: 'Por ahora no toca nada',
  doneMore: (span) => `El próximo dato toca dentro de ${span}. Volver entonces ayuda más que seguir.`,
  span(ms) {
    const minutes = Math.max(1, Math.round(ms / 60_000));
    if (minutes < 90) return minutesOf.format(minutes);
    if (minutes < 22 * 60) return hoursOf.format(Math.round(minutes / 60));
    return daysOf.format(Math.round(minutes / 1440));
  },
  save: 'Guardar esta página',
  saveHint: 'Un archivo que lleva dentro las preguntas de esta lista (unos 2 MB). Se abre en un navegador sin ninguna red. Guarda lo que aprendes aparte de esta página.',
  reset: 'Olvidar todo lo aprendido',
  confirmReset: { title: '¿Olvidar todo lo aprendido?', text: 'Todos los datos de todas las listas vuelven a contar como nuevos en este aparato. No se puede deshacer.', yes: 'Olvidar todo' },
  notHere: (name) => `La lista ${name} no está en este aparato, y el servidor no respondió. Vuelve a la red del servidor e inténtalo de nuevo, o elige otra lista.`,
  cannotLoad: 'Las preguntas no llegaron',
  otherRoster: 'Usar la lista de siempre',
};

export const host = {
  title: 'Consola de dirección',
  keyLabel: 'Clave de dirección',
  keyHint: 'El servidor la imprimió al arrancar. Se queda solo en esta pestaña.',
  useKey: 'Usar esta clave',
  emptyKey: 'Escriba la clave de dirección.',
  wrongKey: 'El servidor no conoce esta clave. Mire la línea que imprimió al arrancar.',
  newGame: 'Juego nuevo',
  newGameHint: 'El servidor sortea un código de acceso.',
  oldGame: 'Juego ya en marcha',
  openConsole: 'Abrir su consola',
  cannotCreate: 'El servidor no creó el juego. Inténtelo de nuevo; si sigue igual, mire su registro.',
  present: 'Otra consola dirige este juego',
  presentMore: 'Solo una consola dirige a la vez. Si usted toma el mando, la otra recibe aviso y se detiene.',
  takeOver: 'Tomar el mando',
  replaced: 'Otra consola tomó el mando',
  replacedMore: 'Esta consola ya no dirige el juego. Nada de lo que presione aquí tiene efecto.',
  takeBack: 'Recuperar el mando',
  openBoard: 'Abrir el tablero',
  debrief: 'Análisis',
  results: 'Descargar resultados (CSV)',
  noResults: 'El servidor no envió los resultados. Inténtelo de nuevo; si sigue igual, mire su registro.',
  joinAt: 'Los equipos entran en',
  phases: { lobby: 'Sala de espera', asking: 'Pregunta abierta', buzzed: 'Turno dado', revealed: 'Clave a la vista', break: 'Descanso', ended: 'Terminado' },
  answered: (n, of) => `Respondieron ${number.format(n)} de ${number.format(of)}`,
  keyIs: (letter, text) => `Clave: ${letter}, ${text.replace(/\.$/, '')}`,
  nextUp: 'Después viene',
  controls: 'Mandos',
  actions: {
    start: 'Empezar el juego', next: 'Siguiente pregunta', leave: 'Siguiente ronda', close: 'Parar el reloj y mostrar', pause: 'Pausa', resume: 'Reanudar',
    skip: 'Saltar', undo: 'Retirar el veredicto', right: 'Dar por correcta', wrong: 'Dar por incorrecta', end: 'Terminar el juego',
  },
  ruleFor: (name) => `Responde ${name}. Juzgue la respuesta dicha:`,
  shortcuts: 'Atajos de teclado',
  shortcutsOn: 'Usar teclas sueltas como atajos',
  noTeams: 'Todavía no ha entrado ningún equipo.',
  online: 'en línea',
  offline: 'sin conexión',
  answeredOne: 'respondió',
  waiting: 'en espera',
  lockedOne: 'sin más turno',
  rename: (name) => `Renombrar a ${name}`,
  remove: (name) => `Sacar a ${name}`,
  renameShort: 'Renombrar',
  freeSeat: (name) => `Liberar el lugar de ${name}`,
  freeSeatShort: 'Liberar el lugar',
  seatFree: 'su lugar está libre',
  seatHint: '¿Ocupó un lugar el teléfono equivocado? Libérelo: ese teléfono sale, y el del equipo puede ocuparlo.',
  removeShort: 'Sacar',
  newName: 'Nombre nuevo',
  save: 'Guardar',
  cancel: 'Cancelar',
  confirm: {
    skip: { title: '¿Saltar esta pregunta?', text: 'No cuenta para nada, se haya respondido lo que se haya respondido.', yes: 'Saltarla' },
    end: { title: '¿Terminar el juego ahora?', text: 'El resultado queda como está. No se puede deshacer.', yes: 'Terminar el juego' },
    freeSeat: (name) => ({ title: `¿Liberar el lugar de ${name}?`, text: 'Su teléfono sale y sus puntos se pierden. Quien ocupe el lugar después empieza en 0.', yes: 'Liberarlo' }),
    remove: (name) => ({ title: `¿Sacar a ${name}?`, text: 'El equipo recibe aviso, sus puntos se pierden y sus teléfonos no pueden volver como este equipo.', yes: 'Sacar' }),
  },
  refused: 'No se hizo:',
  dismiss: 'Ocultar este mensaje',
  plan: 'Plan',
  planTitle: 'Título',
  roster: 'Lista de especies',
  seed: 'Semilla',
  seedHint: 'Con la misma lista, las mismas rondas y la misma semilla salen las mismas preguntas. Con 0 se sortea una.',
  roundN: (n) => `Ronda ${n}`,
  roundName: 'Nombre',
  kind: 'Tipo',
  subjects: 'Temas',
  questions: 'Preguntas',
  secondsEach: 'Segundos por pregunta',
  pointsEach: 'Puntos',
  speed: 'Puntos extra por rapidez',
  typedRound: 'Los nombres se escriben, sin opciones',
  speedMost: 'Máximo de puntos extra',
  penalty: 'Resta por respuesta incorrecta',
  linkWait: 'Espera a teléfonos lentos (ms)',
  linkWaitHint: 'Tras una pulsación se espera como máximo este tiempo a las que vienen en camino. Con 0 gana la primera que llega.',
  difficulty: 'Dificultad',
  difficulties: ['Cualquiera', '1, la más fácil', '2', '3', '4', '5, la más difícil'],
  addRound: 'Añadir una ronda',
  removeRound: (n) => `Quitar la ronda ${n}`,
  savePlan: 'Guardar el plan',
  saved: 'Plan guardado.',
  unsaved: 'Sin guardar todavía.',
  noSubject: (n) => `Ronda ${n}: elija al menos un tema.`,
  newRound: 'Ronda nueva',
};

const percent = (p) => (p === null ? '–' : `${Math.round(100 * p)}\u00a0%`);
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

  whole: 'El juego en conjunto',
  share: (s) => `De todas las respuestas esperadas fue correcto el ${percent(s.p)}: ${number.format(s.right)} de ${number.format(s.of)}.`,
  range: (s) => `Si hubieran jugado otros equipos como estos, la proporción estaría probablemente entre ${percent(s.low)} y ${percent(s.high)} (intervalo de Wilson del 95\u00a0%).`,
  reliability: (t) => `Fiabilidad (KR-20): ${decimal(t.kr20)}. Media de ${decimal(t.mean)} aciertos de ${t.items}, desviación estándar ${decimal(t.sd)}, error estándar de medida ${decimal(t.sem)}. Solo rondas abiertas.`,
  caution: 'Cuidado',

  heat: 'Quién sabía qué',
  heatAlt: (teamCount, questions) => `Imagen con ${teams(teamCount)} en filas y ${count(questions, 'pregunta', 'preguntas')} en columnas; la tabla de abajo dice lo mismo.`,
  marks: { right: 'correcta', wrong: 'incorrecta', none: 'sin respuesta', '': 'no le tocaba' },
  asTable: 'Lo mismo como tabla',
  heatCaption: 'Respuestas de cada equipo, por pregunta',
  trimmed: 'Con tantos equipos, las respuestas no se muestran una por una. Todas están en los resultados (CSV).',
  timeline: 'Cuándo se respondió',
  timelineAlt: 'Imagen del tiempo del juego de izquierda a derecha, con una línea por pregunta; los tiempos están en la tabla de preguntas.',
  timelineHint: 'Minutos y segundos desde que se abrió la primera pregunta. Una línea por pregunta, desde que se abrió. La barra abarca la mitad central de las respuestas; el trazo en ella es la mediana.',
  clock: (ms) => `${Math.floor(ms / 60_000)}:${String(Math.round(ms / 1000) % 60).padStart(2, '0')}`,

  questions: 'Preguntas',
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
  takenCaption: (subject, of) => `${common.subjects[subject] ?? subject}: ${of === 'traits' ? 'afirmaciones' : 'animales y términos'}`,
  takenColumns: { key: 'Era', taken: 'se tomó por', count: 'Veces', of: 'de' },
  noneTaken: 'Nada se tomó por otra cosa.',
  more: (n) => `y ${count(n, 'más, menos frecuente', 'más, menos frecuentes')}, en los resultados (CSV)`,
  pairsCaption: 'Confundidos más a menudo de lo que explica el azar',
  pairColumns: { pair: 'Par', share: 'Confundidos (intervalo del 95 %)', expected: 'Por azar' },
  pair: (p) => `${p.a} / ${p.b}`,
  noPairs: 'No hubo dos que se confundieran más a menudo de lo que explica el azar.',

  teams: 'Equipos',
  teamsCaption: 'Qué sabe cada equipo y qué le conviene practicar',
  teamColumns: { team: 'Equipo', right: 'Aciertos (intervalo del 95 %)', strong: 'Fuerte', weak: 'Débil' },
  neither: 'muy pocas respuestas para decirlo',
  topicsCaption: 'Rasgos, el más flojo primero',
  topicColumns: { trait: 'Rasgo', questions: 'Preguntas', right: 'Aciertos (intervalo del 95 %)' },

  next: 'El próximo juego',
  nextHint: 'Un juego nuevo con las mismas rondas: los temas, rasgos y animales más flojos se preguntan más, y una de cada tres preguntas compara un par que se confundió, mientras haya tales pares. El plan se puede cambiar antes de empezar.',
  plan: 'Planear con esto el próximo juego',
  cannotPlan: 'El servidor no planeó el juego. Inténtelo de nuevo; si sigue igual, mire su registro.',
};

export const photos = {
  title: 'Fotos',
  lead: 'Fotos propias, que se muestran en lugar del dibujo del mismo animal y tema. Se quedan en este servidor. Se borra todo lo que la cámara escribe en el archivo, sobre todo el lugar.',
  species: 'Animal',
  speciesHint: 'Su nombre común, en español o en inglés, o el científico.',
  subject: 'Tema',
  subjectHint: 'Tome la huella con los dedos hacia arriba y una escala al lado. Para un ave, elija huella delantera. Una foto con las dos huellas sirve para cualquiera de ellas.',
  kinds: { skull: 'Cráneo', 'front print': 'Huella delantera', 'hind print': 'Huella trasera', track: 'Huellas delantera y trasera', scat: 'Excreta' },
  credit: 'Autoría',
  creditHint: 'Quién la tomó; basta “foto propia”. Ningún nombre de alumnos. Se muestra con la clave.',
  file: 'Archivo',
  fileHint: 'JPEG, PNG o WebP, de 8 MiB como máximo.',
  add: 'Añadir la foto',
  adding: 'Añadiendo…',
  added: (name, subject) => `Añadida: ${name}, ${subject.toLowerCase()}.`,
  noFile: 'Elija un archivo.',
  tooBig: 'Este archivo tiene más de 8 MiB, lo máximo para una foto. Guárdelo más pequeño y elíjalo de nuevo.',
  none: 'Todavía no hay fotos: todas las láminas son dibujos.',
  line: (name, subject, credit) => `${name}, ${subject.toLowerCase()}. Foto: ${credit}`,
  remove: 'Borrar',
  removeOne: (line) => `Borrar: ${line}`,
  confirm: (line) => ({ title: '¿Borrar esta foto?', text: `${line}. Vuelve a mostrarse el dibujo.`, yes: 'Borrar' }),
};

export const stops = {
  4100: 'Ningún juego tiene este código de acceso. Compruébalo con quien dirige.',
  4102: 'El servidor no entendió esta página. Recárgala.',
  4104: host.wrongKey,
  4105: 'El servidor no aceptó este nombre. Elige otro.',
  4106: 'El juego está lleno. Pregúntale a quien dirige.',
  4107: 'El servidor ya no reconoce este aparato. Entra de nuevo.',
  other: 'El servidor cerró la conexión.',
};

export const announce = {
  lobby: 'Sala de espera. Falta que empiece el juego.',
  asking: (q) => `La pregunta ${q.n} está abierta.`,
  buzzed: (name) => `El turno es de ${name}.`,
  revealed: 'La pregunta está cerrada.',
  break: 'La ronda terminó.',
  ended: 'El juego terminó.',
};

export const gallery = {
  title: 'galería de pantallas',
  lead: 'Todas las pantallas en todos sus estados, dibujadas con estados preparados. Desde aquí no se envía nada.',
};

export const nicknames = {
  places: ['del Pantano', 'del Arroyo', 'del Matorral', 'del Invierno', 'de la Loma', 'del Prado', 'del Estanque', 'del Musgo', 'del Cañón', 'de la Selva', 'del Manglar', 'del Roble'],
  animals: ['Nutrias', 'Tejones', 'Garzas', 'Liebres', 'Linces', 'Castores', 'Comadrejas', 'Búhos', 'Mapaches', 'Coyotes', 'Pumas', 'Zorros'],
  name: (place, animal) => `${animal} ${place}`,
};

export const pages = {
  language: 'Idioma',
  titles: { fair: 'Equipos parejos', season: 'Temporada', 'season-board': 'Tablero de la temporada', trends: 'Tendencias', board: 'Tablero', debrief: 'Análisis', gallery: 'Galería de pantallas', host: 'Dirección', practice: 'Práctica', team: 'Equipo' },
};

const busy = 'Hay demasiados intentos desde esta red. Espera un minuto e inténtalo de nuevo.';
const noPage = 'El servidor no entendió esta página. Recárgala.';
const notStored = 'El servidor no pudo guardarlo. Espera un momento e inténtalo de nuevo; si sigue igual, hay que mirar su registro.';
const inEnglish = (what) => (message) => `${what} El servidor dice, en inglés: ${message}`;

// refusals are by the hub's code: a text, or what makes one of the hub's own.
const refusals = {
  answered: 'Vale la primera respuesta.',
  bad_command: noPage,
  bad_frame: noPage,
  bad_name: 'Ese nombre no sirve: de 1 a 24 caracteres, con alguna letra o cifra, sin signos como < > & " { } ni caracteres invisibles.',
  bad_notice: inEnglish('El aviso no sirve.'),
  bad_option: 'No hay tal opción.',
  bad_photo: inEnglish('La foto no sirve.'),
  bad_plan: inEnglish('El plan no sirve así.'),
  bad_token: 'El servidor ya no reconoce este aparato. Entra de nuevo.',
  beaten: 'Otro equipo pulsó primero.',
  come_back: 'El servidor está ocupado con este juego. Inténtalo de nuevo en un momento.',
  ended: 'Este juego terminó.',
  game_full: 'El juego está lleno. Pregúntale a quien dirige.',
  host_present: 'Otra consola dirige este juego. Tome el mando, o cierre esta página.',
  locked_out: 'Tu equipo no tiene más turno en esta pregunta.',
  name_refused: 'Ese nombre no es para una clase: elige otro.',
  name_taken: 'Ese nombre ya está tomado: elige otro.',
  no_game: 'Todavía no hay juego.',
  no_plan: 'Primero planee al menos una ronda.',
  no_photo: 'No hay tal foto; quizás ya se borró.',
  not_arrived: 'La foto no llegó completa. Envíela de nuevo, más cerca del servidor o como archivo más pequeño.',
  too_many_photos: 'Este servidor no guarda más fotos: borre una primero.',
  no_plate: 'No hay tal lámina, o su pregunta no está abierta.',
  no_qr: 'No se pudo dibujar el código QR: usen el código de acceso.',
  no_questions: inEnglish('Con esta lista no hay preguntas para practicar.'),
  no_teams: 'Todavía no ha entrado ningún equipo.',
  not_holder: 'Primero hay que pulsar: responde el equipo que tiene el turno.',
  not_host: 'Eso solo puede hacerlo la consola de dirección.',
  not_now: 'Eso no se puede hacer en este momento del juego.',
  not_read: 'El servidor no pudo leer este juego. Inténtelo de nuevo; si sigue igual, mire su registro.',
  not_saved: 'No se pudo armar la página: hay que mirar el registro del servidor.',
  not_stored: notStored,
  nothing_to_undo: 'No hay veredicto que retirar.',
  paused: 'El juego está en pausa.',
  too_fast: 'Demasiado seguido. Espera un momento e inténtalo de nuevo.',
  too_late: 'Ya no se puede: la pregunta o el juego está cerrado.',
  too_many_joins: busy,
  too_many_tries: busy,
  unknown_code: 'Ningún juego tiene ese código de acceso. Son dos palabras y dos cifras, como en el tablero.',
  unknown_command: noPage,
  unknown_name: 'Ningún animal en juego se llama así. Revisa la ortografía y envíalo de nuevo.',
  unknown_roster: 'No hay ninguna lista con ese nombre. Elige otra.',
  unknown_team: 'Este equipo no está en el juego.',
  wrong_key: host.wrongKey,
  bad_extra: 'Ese tiempo adicional no sirve: elija uno de los que ofrece la consola.',
  no_backup: 'Este servidor guarda sus juegos en Redis: respáldelos con las herramientas de Redis.',
  not_erased: 'No se pudo borrar: mire el registro del servidor e inténtelo de nuevo.',
  shared_key: 'Varios servidores comparten esta clave: se cambia al iniciarlos de nuevo con otra.',
  bad_set: inEnglish('Este archivo no se puede cargar.'),
  last_question: 'A cada ronda le queda al menos una pregunta. Cámbiela por otra, o quite la ronda.',
  no_place: 'La ronda no tiene ese lugar.',
  no_question: 'Esta pregunta ya no está en la ronda. Mire las preguntas otra vez.',
  no_round: 'El plan no tiene esa ronda.',
  nothing_left: 'Esta pregunta se queda: no hay otra parecida que cumpla las reglas del plan.',
  old_plan: 'Estas preguntas las planeó una versión anterior de Fieldsign. Guarde el plan de nuevo y luego cámbielas.',
  stale_plan: 'Las preguntas elegidas de una ronda cambiaron entretanto. Recargue esta página y cambie el plan otra vez.',
  too_many_edits: 'De esta ronda ya se quitaron tantas preguntas que no puede quitarse ninguna más. Elija otra semilla.',
  at_station: 'Las preguntas de una ronda de estaciones son de sus estaciones. Elija otra semilla u otros animales.',
  set_of_stations: 'Una ronda de estaciones no se guarda como conjunto: la misma lista, los mismos temas y la misma semilla la dan otra vez. Quítela antes del plan.',
  bad_time: 'Con ese cambio la rotación no tendría un tiempo posible.',
  not_here: 'Tu equipo no está en esa estación.',
  unknown_question: 'Esa pregunta no es de esta ronda.',
  bad_seeding: 'El orden se sortea, o sigue las fuerzas de una temporada.',
  not_a_side: 'Este juego es un partido entre otros equipos: solo ellos juegan.',
  unknown_tournament: 'Ningún torneo tiene ese código. Son dos palabras y dos cifras, como en la página de quien dirige.',
  bad_list: inEnglish('La lista de apodos no sirve así.'),
  bad_season: 'El nombre de una temporada tiene de 1 a 40 caracteres, todos visibles.',
  not_ended: 'Este juego no ha terminado: termínelo primero y luego cuéntelo.',
  unknown_game: 'Este servidor ya no guarda ese juego.',
  unknown_season: 'Ninguna temporada se llama así, o no está abierta.',
};

const notices = {
  restarted: 'El servidor se reinició. Se reanuda cuando hayan vuelto todos.',
  store_gone: 'Por ahora el servidor no alcanza su almacén. No se pierde ningún punto, y el juego sigue por sí solo.',
  store_lost: 'El almacén perdió los últimos momentos de este juego. Revise los puntos y después reanude.',
};

// What the hub's first plan is called, until the host calls it something else.
const planned = { 'Review round': 'Ronda de repaso', 'Skulls, tracks and scat': 'Cráneos, huellas y excretas', 'First to buzz': 'El primero en pulsar' };
const renamed = (text) => planned[text] ?? text.replace(/^Tournament(?=: match \d+$)/, 'Torneo').replace(/: match (\d+)$/, ': encuentro $1');

export const hub = {
  refused({ code, message }) {
    const said = refusals[code];
    return typeof said === 'function' ? said(message) : said ?? message;
  },
  notice: (state) => notices[state.noticeCode] ?? state.notice,
  caution: (test) => test.caution && `Estas cifras se basan en ${teams(test.teams)} y ${count(test.items, 'pregunta', 'preguntas')}. Por práctica común dicen poco con menos de 30 equipos o 10 preguntas.`,
  title: renamed,
  plan: (plan) => ({ ...plan, title: renamed(plan.title), rounds: plan.rounds.map((r) => ({ ...r, name: renamed(r.name) })) }),
};

// A species, by its name in Spanish and the English one, which prompts and reasons use.
export const species = {
  both: (name, english) => (name.toLowerCase() === english.toLowerCase() ? name : `${name} (${english})`),
};
