// The words of station rounds, and of rounds about to begin, in Spanish.

import { count } from './basics.mjs';

export const station = {
  kind: 'Estaciones',
  phases: { walk: 'Caminando', station: 'En las estaciones', marked: 'Calificada' },
  rotation: (r) => `Rotación ${r.turn} de ${r.of}`,
  at: (n) => `Estación ${n}`,
  clock: (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`,
  specimen: (animal, subject) => `${animal}, ${{ skull: 'cráneo', track: 'huella', scat: 'excreta', sign: 'señal' }[subject] ?? subject}`,
  voided: 'No cuenta',

  goTo: 'Ve a la',
  startAt: 'Tu primera estación es la',
  startMore: 'Se empieza cuando todos los equipos estén en su lugar.',
  locked: (n) => `Llegó la señal. Lo que respondiste en la estación ${n} ya no cambia.`,
  change: 'Toca una respuesta. Hasta la señal puedes cambiarla; cuenta la última.',
  replica: 'El ejemplar está en la estación. Míralo allí.',
  filled: (n, of) => `${n} de ${of} respondidas`,
  saving: 'Enviando…',
  yours: 'tu respuesta',
  over: 'La ronda terminó',
  result: (right, of) => `${right} de ${of} correctas`,
  unanswered: 'sin respuesta',

  find: 'Busquen su primera estación',
  work: 'En las estaciones',
  walk: 'Alto. Caminen a la siguiente estación',
  empty: 'nadie',
  more: (n) => `y ${n} más`,
  soundOn: 'Sonido: sí',
  soundOff: 'Sonido: no',
  marked: 'Lo que había en las estaciones',

  begin: 'Empezar la primera rotación',
  beginNow: 'Empezar ya la siguiente rotación',
  signalNow: 'Dar la señal ahora',
  longer: '30 s más',
  shorter: '30 s menos',
  mark: 'Terminar la ronda y calificarla',
  confirmMark: { title: '¿Terminar la ronda ahora?', text: 'Ningún equipo sigue caminando. Se califica lo respondido hasta ahora y se muestran las claves.', yes: 'Terminar y calificar' },
  leave: 'Continuar',
  own: 'su réplica',
  stations: 'Estaciones',
  keyOf: (n) => `Clave de la pregunta ${n}`,
  correctHint: '¿Una etiqueta equivocada o un ejemplar roto? Elija otra clave, o que la pregunta no cuente. Los puntos se ajustan.',
  keysHint: 'Los animales y las claves no se muestran aquí, por si un proyector muestra esta pantalla.',
  showKeys: 'Mostrar animales y claves',
  hideKeys: 'Ocultar animales y claves',
  doing: (n, filled, each) => `en la estación ${n}, ${filled} de ${each} respondidas`,
  walking: (n) => `hacia la estación ${n}`,

  count: 'Estaciones',
  each: 'Preguntas en cada una',
  seconds: 'Segundos en cada una',
  walkSeconds: 'Segundos para caminar',
  replicas: 'Sus propias réplicas',
  replicasHint: 'En estas estaciones los teléfonos no muestran nada: ponga la réplica y diga aquí de qué animal es. Las demás muestran un dibujo, o su foto.',
  replicaAt: 'Estación',
  animal: 'Animal',
  subject: 'Tema',
  subjects: { skull: 'Cráneo', track: 'Huella', scat: 'Excreta', sign: 'Señal' },
  addReplica: 'Añadir una réplica',
  removeReplica: (n) => `Quitar la réplica de la estación ${n}`,
  newRound: 'Estaciones',
};

// Of a round that is about to begin. Ten seconds are those of game/buzz.go.
export const ready = {
  title: (n) => `Ronda ${n}: ¿todo listo?`,
  rule: ({ kind, typed }) => (kind === 'buzz' ? `Primero se pulsa, después se ${typed ? 'escribe' : 'toca'} la respuesta en 10 segundos. Si no es correcta, pueden pulsar los demás.`
    : `Cada equipo ${typed ? 'escribe' : 'toca'} su respuesta, que ya no cambia.`),
  points: (r) => [`${count(r.points, 'punto', 'puntos')} por acertar`, r.speed && `hasta ${r.speed} más por rapidez`, r.penalty && `${r.penalty} menos por fallar`].filter(Boolean).join(', '),
};
