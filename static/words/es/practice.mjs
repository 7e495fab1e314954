// The words of practice alone, in Spanish.

import { count, locale, number } from './basics.mjs';

const span = (unit) => new Intl.NumberFormat(locale, { style: 'unit', unit, unitDisplay: 'long' });
const [minutesOf, hoursOf, daysOf] = [span('minute'), span('hour'), span('day')];

export const practice = {
  title: 'Practicar a solas',
  lead: 'Preguntas sueltas. Lo que fallas vuelve pronto, lo que sabes vuelve más tarde.',
  kept: 'Lo que aprendes se guarda solo en este aparato. No se le envía nada a nadie.',
  notKept: 'Este navegador no guarda nada de esta página: lo que aprendes se olvida al cerrarla. Abrirla en otro navegador puede servir.',
  offline: 'Esta página está guardada en este aparato y se abre sin el servidor.',
  roster: 'Animales',
  rosterIs: (name) => `Animales: ${name}`,
  noSubject: 'Elige al menos un tema.',
  now: (due, fresh, resting) => `Por repasar ahora: ${number.format(due)}; todavía no vistos: ${number.format(fresh)}; sabidos por ahora: ${number.format(resting)}.`,
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
  levelHint: 'El tiempo tras el cual todavía se recuerdan nueve de cada diez datos así, en promedio: débil por debajo de 3 días, fuerte desde 30 días.',
  terms: 'Palabras del oficio',
  noneYet: 'Todavía no has respondido nada.',
  pick: 'Elige una respuesta: tócala o presiona su letra.',
  sitting: (right, of) => `${number.format(right)} de ${number.format(of)} bien hasta ahora`,
  yours: 'tu respuesta',
  place: (n, of, right) => `Pregunta ${number.format(n)} de ${number.format(of)}, ${number.format(right)} bien`,
  summary: (right, of) => `${number.format(right)} de ${number.format(of)} bien`,
  allRight: 'Todas. Muy bien.',
  lookAgain: 'Vuelve a mirar estas',
  comesBack: 'Lo que fallaste vuelve pronto, lo que sabías más tarde.',
  more: 'Diez más',
  goOver: (n) => `Repasar lo que fallaste (${number.format(n)})`,
  verdict: (right) => (right ? 'Correcto' : 'Incorrecto'),
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
