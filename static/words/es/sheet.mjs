// The words of a tournament's brackets and tables, in Spanish.

import { count, few, locale, teams } from './basics.mjs';

export const sheet = {
  bracket: 'Cuadro',
  tables: 'Tablas',
  formats: { 'round robin': 'Todos contra todos', 'single elimination': 'Eliminación simple', 'double elimination': 'Doble eliminación', swiss: 'Sistema suizo', pools: 'Grupos y después un cuadro' },
  entrants: (n) => teams(n),
  phase: (tournament) => (tournament.phase === 'entry' ? 'Se inscriben equipos' : tournament.phase === 'ended' ? 'Terminado'
    : tournament.settings.format === 'swiss' ? `Ronda ${Math.max(0, ...tournament.columns.map((c) => c.round))} de ${tournament.rounds}` : 'En juego'),
  estimate: ({ matches, minutes }, clock) => (matches > 0 && minutes > 0
    ? `${count(matches, 'encuentro', 'encuentros')} por jugar, hasta cerca de las ${new Date(clock + minutes * 60_000).toLocaleTimeString(locale, { hour: '2-digit', minute: '2-digit', hour12: false })}` : ''),
  round: (part, round, n, double) => ({
    final: 'Final', reset: 'Segunda final, si hace falta', third: 'Tercer lugar', losers: `Segunda oportunidad, ronda ${round}`,
  })[part] ?? (part === 'winners' && !double && n === 2 ? 'Semifinales' : part === 'winners' && !double && n === 4 ? 'Cuartos de final' : `Ronda ${round}`),
  secondFinal: 'Segunda final',
  plusOne: '+1',
  from: ({ from, loser }) => (loser ? `Pierde el ${from}` : `Gana el ${from}`),
  playingAt: (code) => `En juego: ${code}`,
  playedAt: (board, boards) => (boards > 1 ? `En juego en el tablero ${board}` : 'En juego'),
  soon: 'Se juega a continuación',
  soonAt: (board) => `El próximo en el tablero ${board}`,
  bye: 'libre',
  sides: (home, away) => `${home} – ${away}`,
  nowPlaying: (id) => `Encuentro ${id}, ahora:`,
  nextUp: (id) => `Encuentro ${id}, el próximo:`,
  first: (names) => `Primer lugar: ${few.format(names)}`,
  spoken: (m, home, away) => `Encuentro ${m.id}: ${home} contra ${away}${m.result?.outcome ? `, ${m.result.outcome === 'played' ? `${m.result.home ?? 0} a ${m.result.away ?? 0}` : { forfeit: 'abandono', walkover: 'ausencia', bye: 'libre' }[m.result.outcome]}, gana ${m.result.winner === m.home.entrant ? home : m.result.winner === m.away.entrant ? away : 'nadie'}` : ''}`,
  outcome: (m, tournament) => {
    const r = m.result ?? {};
    if (r.outcome === 'played') {
      const level = (r.home ?? 0) === (r.away ?? 0) && r.winner > 0;
      return `${r.home ?? 0} : ${r.away ?? 0}${level ? `, desempate para ${tournament.entrants[r.winner - 1].name}` : ''}`;
    }
    if (r.outcome) return r.outcome === 'bye' ? 'queda' : r.winner === -1 ? 'nadie se presentó' : `${{ forfeit: 'abandono', walkover: 'ausencia' }[r.outcome]}, para ${tournament.entrants[r.winner - 1]?.name}`;
    const scores = tournament.games[m.id]?.scores;
    return tournament.games[m.id] ? (scores ? `ahora ${scores[0]} : ${scores[1]}` : 'por empezar') : '–';
  },
  pool: (n) => `Grupo ${String.fromCharCode(64 + n)}`,
  tableTitle: (t) => (t.part === 'pool' ? `Grupo ${String.fromCharCode(64 + t.pool)}` : 'Tabla'),
  columns: { points: 'Puntos', played: 'Jugados', record: 'G–E–P', buchholz: 'Buchholz', sonneborn: 'S.-B.', by: 'Decide', goes: 'Cuadro' },
  by: { points: '', 'head to head': 'entre ellos', Buchholz: 'Buchholz', 'Sonneborn-Berger': 'S.-B.', 'points ratio': 'proporción', 'play-off': 'desempate' },
  goesOn: 'pasa',
  inSoFar: 'por ahora',
  undecided: 'decide un desempate',
  annulled: 'anulado',
  withdrawn: 'retirado',
  level: 'empatados',
  sideways: 'Desliza el cuadro hacia un lado para ver las rondas siguientes.',
  rulesTitle: 'Reglas',
  rules: (s) => [
    ...({
      'round robin': ['Orden de juego según las tablas Berger del manual de la FIDE (C.05).'],
      'single elimination': ['Siembra usual: el 1 y el 2 solo pueden encontrarse en la final; los primeros quedan libres cuando sobra lugar.'],
      'double elimination': ['Siembra usual; quien pierde dos veces queda fuera; si quien viene de la segunda oportunidad gana la final, se juega una segunda final.'],
      swiss: ['Emparejamiento según las reglas básicas del manual de la FIDE (C.04.1), sin colores: nadie se enfrenta dos veces con el mismo equipo, se enfrentan puntajes iguales, a lo sumo una vez libre.'],
      pools: ['Los equipos se reparten en los grupos de ida y vuelta según la siembra; orden de juego según las tablas Berger del manual de la FIDE (C.05); los primeros de grupo van antes que los segundos.'],
    }[s.format]),
    ...(s.format.includes('elimination') ? ['Un empate se decide con una pregunta más (+1).'] : ['Los empates se deciden por los encuentros entre ellos, ' + (s.format === 'swiss' ? 'Buchholz, ' : '') + 'Sonneborn-Berger (manual de la FIDE, C.07), la proporción de puntos propios y después un desempate.']),
    ...(s.lots ? [`El orden salió por sorteo, semilla ${s.seed}.`] : []),
  ],
  atBoard: (n) => `Tablero ${n}`,
  qrAlt: 'Código QR de la dirección donde entran los equipos',
  board: 'Tablero',
};
