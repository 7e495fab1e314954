// The words of the projector’s board, in Spanish.

import { number, teams } from './basics.mjs';

export const board = {
  typed: 'Escriban el nombre del animal en el teléfono.',
  title: 'Tablero',
  scan: 'Escaneen, o abran',
  offline: 'Ningún teléfono llega todavía a este equipo. Conéctelo al wifi de la sala: la entrada aparece aquí sola.',
  hereNow: (n) => `${teams(n)} en la lista`,
  round: (r) => `Ronda ${r.n} de ${r.of}`,
  question: (q, r) => `Pregunta ${q.n} de ${r.questions}`,
  controls: 'Controles del tablero',
  showJoin: 'Mostrar cómo entrar',
  howToJoin: 'Cómo entrar',
  full: 'Pantalla completa',
  hold: 'Quedarse en esta estación',
  before: 'antes',
  thisRound: 'esta ronda',
  moved: 'Puestos ganados o perdidos',
  up: (n) => `sube ${n}`,
  down: (n) => `baja ${n}`,
  qrAlt: 'Código QR del enlace para entrar',
  noTeams: 'La lista está abierta',
  answered: (n, of) => `Respondieron ${number.format(n)} de ${number.format(of)}`,
  free: 'Se puede pulsar',
  holds: (name) => `Responde ${name}`,
  locked: (n) => `${teams(n)} sin más turno`,
  afterRound: (r) => `Tras la ronda ${r.n} de ${r.of}`,
  final: 'Resultado final',
  showCode: 'Mostrar el tablero de este juego',
};
