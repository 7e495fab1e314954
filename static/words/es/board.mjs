// The words of the projector’s board, in Spanish.

import { number, teams } from './basics.mjs';

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
