// The words of a tournament's brackets and tables, in English.

import { count, few, teams } from './basics.mjs';

export const sheet = {
  bracket: 'Bracket',
  tables: 'Tables',
  formats: { 'round robin': 'Round robin', 'single elimination': 'Single elimination', 'double elimination': 'Double elimination', swiss: 'Swiss', pools: 'Pools, then a bracket' },
  entrants: (n) => teams(n),
  phase: (tournament) => (tournament.phase === 'entry' ? 'Teams gather' : tournament.phase === 'ended' ? 'Ended'
    : tournament.settings.format === 'swiss' ? `Round ${Math.max(0, ...tournament.columns.map((c) => c.round))} of ${tournament.rounds}` : 'Being played'),
  estimate: ({ matches, minutes }, clock) => (matches > 0 && minutes > 0
    ? `${count(matches, 'match', 'matches')} left, until about ${new Date(clock + minutes * 60_000).toLocaleTimeString('en', { hour: '2-digit', minute: '2-digit', hour12: false })}` : ''),
  round: (part, round, n, double) => ({
    final: 'Final', reset: 'Second final, if needed', third: 'Third place', losers: `Second chance, round ${round}`,
  })[part] ?? (part === 'winners' && !double && n === 2 ? 'Semi-finals' : part === 'winners' && !double && n === 4 ? 'Quarter-finals' : `Round ${round}`),
  secondFinal: 'Second final',
  plusOne: '+1',
  from: ({ from, loser }) => (loser ? `Loser of ${from}` : `Winner of ${from}`),
  playingAt: (code) => `Being played: ${code}`,
  playedAt: (board, boards) => (boards > 1 ? `Being played at board ${board}` : 'Being played'),
  soon: 'Next to be played',
  soonAt: (board) => `Next at board ${board}`,
  bye: 'bye',
  sides: (home, away) => `${home} – ${away}`,
  nowPlaying: (id) => `Match ${id} now:`,
  nextUp: (id) => `Match ${id} next:`,
  first: (names) => `First place: ${few.format(names)}`,
  spoken: (m, home, away) => `Match ${m.id}: ${home} against ${away}${m.result?.outcome ? `, ${m.result.outcome === 'played' ? `${m.result.home ?? 0} to ${m.result.away ?? 0}` : m.result.outcome}, won by ${m.result.winner === m.home.entrant ? home : m.result.winner === m.away.entrant ? away : 'nobody'}` : ''}`,
  outcome: (m, tournament) => {
    const r = m.result ?? {};
    if (r.outcome === 'played') {
      const level = (r.home ?? 0) === (r.away ?? 0) && r.winner > 0;
      return `${r.home ?? 0} : ${r.away ?? 0}${level ? `, play-off won by ${tournament.entrants[r.winner - 1].name}` : ''}`;
    }
    if (r.outcome) return r.outcome === 'bye' ? 'has a' : r.winner === -1 ? 'neither came' : `${r.outcome}, for ${tournament.entrants[r.winner - 1]?.name}`;
    const scores = tournament.games[m.id]?.scores;
    return tournament.games[m.id] ? (scores ? `now ${scores[0]} : ${scores[1]}` : 'starting') : '–';
  },
  pool: (n) => `Pool ${String.fromCharCode(64 + n)}`,
  tableTitle: (t) => (t.part === 'pool' ? `Pool ${String.fromCharCode(64 + t.pool)}` : 'Table'),
  columns: { points: 'Points', played: 'Played', record: 'W–D–L', buchholz: 'Buchholz', sonneborn: 'S.-B.', by: 'Parted by', goes: 'Bracket' },
  by: { points: '', 'head to head': 'head to head', Buchholz: 'Buchholz', 'Sonneborn-Berger': 'S.-B.', 'points ratio': 'points ratio', 'play-off': 'play-off' },
  goesOn: 'goes on',
  inSoFar: 'in, so far',
  undecided: 'play-off decides',
  annulled: 'annulled',
  withdrawn: 'withdrawn',
  level: 'level',
  sideways: 'Push the bracket sideways for the later rounds.',
  rulesTitle: 'Rules',
  rules: (s) => [
    ...({
      'round robin': ['Order of play by the Berger tables of the FIDE Handbook (C.05).'],
      'single elimination': ['Standard seeding: seeds 1 and 2 can meet in the final only; byes go to the top seeds.'],
      'double elimination': ['Standard seeding; who has lost twice is out; who comes out of the second chance and wins the final plays a second final.'],
      swiss: ['Pairing by the basic rules of the FIDE Handbook (C.04.1), without colours: nobody meets an opponent twice, equal scores meet, one bye at most.'],
      pools: ['Teams are dealt to the pools there and back by seeding; order of play by the Berger tables of the FIDE Handbook (C.05); winners of pools are seeded above seconds.'],
    }[s.format]),
    ...(s.format.includes('elimination') ? ['A level match is decided by one more question (+1).'] : ['Level teams are parted by head to head, ' + (s.format === 'swiss' ? 'Buchholz, ' : '') + 'Sonneborn-Berger (FIDE Handbook C.07), the share of points scored, then a play-off.']),
    ...(s.lots ? [`The order fell by lot, seed ${s.seed}.`] : []),
  ],
  atBoard: (n) => `Board ${n}`,
  qrAlt: 'QR code of the address where teams sign in',
  board: 'Board',
};
