// The words that every page has, in Spanish.

import { count, few, locale, number, subjects, teams } from './basics.mjs';

const shortSeconds = new Intl.NumberFormat(locale, { style: 'unit', unit: 'second', unitDisplay: 'short' });
const between = (names) => (names.length > 4 ? teams(names.length) : few.format(names));
const points = (n) => count(n, 'punto', 'puntos');

export const common = {
  name: 'Fieldsign',
  letters: 'ABCDE',
  right: '✓',
  wrong: '✗',
  key: 'la clave',
  teams,
  points,
  picks: (n) => `elegida: ${number.format(n)}`,
  round: (r) => `Ronda ${r.n} de ${r.of}: ${renamed(r.name)}`,
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
  subjects,
  kinds: { open: 'Ronda para todos', buzz: 'Ronda de pulsador' },
  restarting: 'El servidor se está reiniciando. Esta página vuelve por sí sola; no se pierde nada.',
  later: 'Demasiados intentos fallidos desde esta red. Esta página lo intenta de nuevo en un momento.',
  newName: 'Nombre nuevo',
  cancel: 'Cancelar',
  noResults: 'El servidor no envió los resultados. Inténtelo de nuevo; si sigue igual, mire su registro.',
  refusedWith: (status) => `El servidor no lo aceptó (${status}). Inténtelo de nuevo; si sigue igual, mire su registro.`,
  subjectsLabel: 'Temas',
};

export const lesson = {
  times: (n) => `Dibujado ${number.format(n)} veces más grande.`,
  schematic: 'Dibujo esquemático.',
  gait: 'En el dibujo, «straddle» es el ancho del rastro, y «stride» la distancia de una huella a la siguiente del mismo pie.',
  oneScale: 'Ambos a la misma escala.',
  recalled: 'Esto se apoya en la memoria, no en una fuente: compruébenlo.',
  yours: 'tu respuesta',
  enlarge: 'Ampliar',
  smaller: 'Cerrar',
};

export const joining = {
  codeLabel: 'Código de acceso',
  codeHint: 'Dos palabras en inglés y dos cifras, como otter-burrow-42. Lo muestra quien dirige.',
  join: 'Entrar',
  noCode: 'Escribe el código de acceso que muestra quien dirige.',
  unreachable: 'El servidor no respondió. Revisa que este aparato esté en la misma red e inténtalo de nuevo.',
};

export const stops = {
  4100: 'Ningún juego tiene este código de acceso. Compruébalo con quien dirige.',
  4102: 'El servidor no entendió esta página. Recárgala.',
  4104: 'El servidor no conoce esta clave. Al arrancar de nuevo tiene otra: siga en la página que abrió, o en la dirección que muestra su ventana.',
  4107: 'El servidor ya no reconoce este aparato. Entra de nuevo.',
  other: 'El servidor cerró la conexión.',
};

export const announce = {
  lobby: 'Sala de espera. Falta que empiece el juego.',
  ready: 'Una ronda está por comenzar.',
  asking: (q) => `La pregunta ${q.n} está abierta.`,
  buzzed: (name) => `El turno es de ${name}.`,
  revealed: 'La pregunta está cerrada.',
  break: 'La ronda terminó.',
  ended: 'El juego terminó.',
  walk: ({ turn }) => (turn === 0 ? 'Vayan a su primera estación.' : 'La señal: caminen a la siguiente estación.'),
  station: (r) => `Empezó la rotación ${r.turn} de ${r.of}.`,
  marked: () => 'La ronda terminó y está calificada.',
};

export const pages = {
  language: 'Idioma',
  titles: { 'tournament-public': 'Torneo', 'tournament-page': 'Torneo', fair: 'Equipos parejos', season: 'Temporada', 'season-plan': 'Plan de temporada', 'season-board': 'Tablero de la temporada', trends: 'Tendencias', board: 'Tablero', debrief: 'Análisis', gallery: 'Galería de pantallas', host: 'Dirección', practice: 'Práctica', team: 'Equipo' },
};

const busy = 'Hay demasiados intentos desde esta red. Espera un minuto e inténtalo de nuevo.';
const noPage = 'El servidor no entendió esta página. Recárgala.';
const notStored = 'El servidor no pudo guardarlo. Espera un momento e inténtalo de nuevo; si sigue igual, hay que mirar su registro.';

// refusals are by the hub's code: a text, or one in brackets that the hub's own words
// follow. Those that only a host meets come with the words for the host key.
export const refusals = {
  answered: 'Vale la primera respuesta.',
  bad_command: noPage,
  bad_frame: noPage,
  bad_name: 'Ese nombre no sirve: de 1 a 24 caracteres, con alguna letra o cifra, sin signos como < > & " { } ni caracteres invisibles.',
  bad_option: 'No hay tal opción.',
  bad_token: 'El servidor ya no reconoce este aparato. Entra de nuevo.',
  beaten: 'Otro equipo pulsó primero.',
  come_back: 'El servidor está ocupado con este juego. Inténtalo de nuevo en un momento.',
  ended: 'Ya terminó.',
  game_full: 'El juego está lleno. Pregúntale a quien dirige.',
  locked_out: 'Tu equipo no tiene más turno en esta pregunta.',
  name_refused: 'Ese nombre no es para una clase: elige otro.',
  name_taken: 'Ese nombre ya está tomado: elige otro.',
  no_game: 'Todavía no hay juego.',
  no_plate: 'No hay tal lámina, o su pregunta no está abierta.',
  no_qr: 'No se pudo dibujar el código QR: usen el código de acceso.',
  no_questions: ['Con esta lista no hay preguntas para practicar.'],
  not_holder: 'Primero hay que pulsar: responde el equipo que tiene el turno.',
  not_now: 'Eso no se puede hacer en este momento.',
  failed: 'El servidor no pudo hacerlo y no cambió nada. Espera un momento e inténtalo de nuevo; si sigue igual, hay que mirar su registro.',
  not_saved: 'No se pudo armar la página: hay que mirar el registro del servidor.',
  not_stored: notStored,
  paused: 'El juego está en pausa.',
  too_fast: 'Demasiado seguido. Espera un momento e inténtalo de nuevo.',
  too_late: 'Ya es tarde para eso: está cerrado.',
  too_many_joins: busy,
  too_many_tries: busy,
  unknown_code: 'Ningún juego tiene ese código de acceso. Son dos palabras y dos cifras, como en el tablero.',
  unknown_command: noPage,
  unknown_name: 'Ningún animal en juego se llama así. Revisa la ortografía y envíalo de nuevo.',
  unknown_roster: 'No hay ninguna lista con ese nombre. Elige otra.',
  unknown_team: 'Este equipo no está en el juego.',
  seat_taken: 'Ya juega otro teléfono por este equipo. ¿No es de ustedes? Pídanle a quien dirige que libere el lugar.',
  set_aside: 'Lo guardado está dañado o es de otra versión, así que se dejó aparte. Todo lo demás sigue: vea el registro del servidor.',
  cross_site: 'Lo pidió una página de otro sitio: abra la página de este servidor.',
  not_here: 'Tu equipo no está en esa estación.',
  unknown_question: 'Esa pregunta no es de esta ronda.',
  not_a_side: 'Este juego es un encuentro entre otros equipos: solo ellos juegan.',
  no_tournament: 'Todavía no hay torneo.',
  unknown_entrant: 'Ese equipo no está en el torneo.',
  unknown_match: 'El torneo no tiene ese encuentro.',
  unknown_tournament: 'Ningún torneo tiene ese código. Son dos palabras y dos cifras, como en la página de quien dirige.',
  not_ended: 'Este juego no ha terminado: termínelo primero y luego cuéntelo.',
};

const notices = {
  restarted: 'El servidor se reinició. Se reanuda cuando hayan vuelto todos.',
  store_gone: 'Por ahora el servidor no puede usar su almacén. El juego está detenido y seguirá por sí solo.',
  store_odd: 'El almacén ya no tiene este juego como estaba. El juego está detenido hasta que el servidor lo revise.',
  store_lost: 'El almacén perdió los últimos momentos de este juego. Revise los puntos y después reanude.',
};

// What the hub's first plan is called, until the host calls it something else.
const planned = { 'Review round': 'Ronda de repaso', 'Skulls, tracks and scat': 'Cráneos, huellas y excretas', 'First to buzz': 'El primero en pulsar' };
const renamed = (text) => planned[text] ?? text.replace(/^Tournament(?=: match \d+$)/, 'Torneo').replace(/: match (\d+)$/, ': encuentro $1');

export const hub = {
  refused({ code, message }) {
    const said = refusals[code];
    return Array.isArray(said) ? `${said[0]} El servidor dice, en inglés: ${message}` : said ?? message;
  },
  notice: (state) => notices[state.noticeCode] ?? state.notice,
  caution: (test) => test.caution && (test.teams === 0 ? 'No hay cifras sobre la prueba entera: ningún equipo contó en todas las preguntas de las rondas abiertas y de estaciones.' : `Estas cifras se basan en ${teams(test.teams)} y ${count(test.items, 'pregunta', 'preguntas')}. Por práctica común dicen poco con menos de 30 equipos o 10 preguntas.`),
  title: renamed,
  // What the hub planned by itself, and no host has touched, is in Spanish if that is offered.
  plan: (plan, offered = []) => ({
    ...plan, title: renamed(plan.title), rounds: plan.rounds.map((r) => ({ ...r, name: renamed(r.name) })),
    ...(renamed(plan.title) !== plan.title && offered.includes('es') && { language: 'es' }),
  }),
};

// A species, by its name in Spanish and the English one, which prompts and reasons use.
export const species = {
  both: (name, english) => (name.toLowerCase() === english.toLowerCase() ? name : `${name} (${english})`),
};
