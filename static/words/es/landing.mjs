// The words of the page that all begin at, in Spanish.

export const landing = {
  lead: 'Rondas de repaso con tiempo sobre cráneos, huellas y excretas de animales silvestres.',
  host: 'Dirigir un juego',
  hostHint: 'Planear las rondas y llevarlas. Hace falta la clave de dirección.',
  tournament: 'Torneo',
  tournamentHint: 'Varios encuentros, cada uno un juego corto entre dos equipos. El servidor lleva la tabla o el cuadro.',
  season: 'Plan de la temporada',
  seasonHint: 'Lo que muestra cada reunión de un club hasta su concurso. Hace falta la clave de dirección.',
  foodweb: 'Quién come a quién',
  foodwebHint: 'La red alimentaria de una lista, dibujada para un proyector.',
  board: 'Mostrar el tablero',
  boardHint: 'La pantalla común, para un proyector.',
  practice: 'Practicar a solas',
  practiceHint: 'Preguntas sueltas, espaciadas según lo que recuerdas. Sin juego, sin nombre y sin cuenta.',
  caution: 'Practica con réplicas y moldes; lávate las manos; no recojas partes de animales silvestres sin los permisos que pide la autoridad local.',
};
