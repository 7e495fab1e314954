// A team's way through a tournament, worked out from what the hub shows of it.

export const matchesOf = (tournament) => tournament.columns.flatMap((c) => c.matches);
export const nameOf = (tournament, entrant) => tournament.entrants[entrant - 1]?.name ?? '–';
export const boardOf = (tournament, match) => tournament.at.indexOf(match) + 1;

const done = (m) => Boolean(m.result?.outcome);
const has = (m, entrant) => m.home.entrant === entrant || m.away.entrant === entrant;
const opposite = (m, entrant) => (m.home.entrant === entrant ? m.away : m.home);
const between = (m) => m.home.entrant > 0 && m.away.entrant > 0;

// gameOf is the game in which a match is played now, or null.
export function gameOf(tournament, match) {
  const game = tournament.games[match];
  return game && game.phase !== 'ended' ? game : null;
}

// playingOf is the match that a team plays now: {match, code, side}, or null.
export function playingOf(tournament, entrant) {
  const m = matchesOf(tournament).find((o) => has(o, entrant) && gameOf(tournament, o.id));
  if (!m) return null;
  const game = gameOf(tournament, m.id);
  return { match: m.id, code: game.code, side: game.sides[m.home.entrant === entrant ? 0 : 1], against: nameOf(tournament, opposite(m, entrant).entrant) };
}

// pastOf are the matches that a team has behind it, as it sees them.
export function pastOf(tournament, entrant) {
  return matchesOf(tournament).filter((m) => has(m, entrant) && between(m) && done(m)).map((m) => {
    const { outcome, winner, home = 0, away = 0 } = m.result;
    const [own, other] = m.home.entrant === entrant ? [home, away] : [away, home];
    return { id: m.id, against: nameOf(tournament, opposite(m, entrant).entrant), outcome, own, other, ended: winner === entrant ? 'won' : winner > 0 || winner === -1 ? 'lost' : 'drawn' };
  });
}

const rankOf = (tournament, entrant) => tournament.ranking.find((r) => r.entrant === entrant)?.rank ?? 0;

// standingOf is what a team has to know now. kind names it; the rest is what is said with it.
export function standingOf(tournament, entrant) {
  const rank = rankOf(tournament, entrant);
  if (tournament.phase === 'entry') return { kind: tournament.entrants[entrant - 1].withdrawn ? 'withdrawn' : 'entry' };
  if (tournament.phase === 'ended') return { kind: rank === 1 ? 'won' : 'out', rank };
  const m = matchesOf(tournament).find((o) => has(o, entrant) && !done(o));
  if (m) return toCome(tournament, m, entrant);
  if (tournament.entrants[entrant - 1].withdrawn) return { kind: 'withdrawn' };
  const last = tournament.settings.format === 'swiss' ? tournament.may.finish : tournament.bracket > 0 || tournament.settings.format !== 'pools';
  return last ? { kind: 'out', rank: tournament.bracket > 0 ? rank : 0 } : { kind: 'pausing' };
}

// levelAt tells whether a match of the bracket has ended level, so that one more question decides.
export function levelAt(tournament, m) {
  const game = tournament.games[m.id];
  return game?.phase === 'ended' && Boolean(game.scores) && game.scores[0] === game.scores[1] && tournament.bracket > 0 && m.id >= tournament.bracket;
}

function toCome(tournament, m, entrant) {
  const seat = opposite(m, entrant);
  const game = tournament.games[m.id];
  const said = { against: nameOf(tournament, seat.entrant), seat, board: boardOf(tournament, m.id) };
  if (game?.phase === 'ended') return { kind: levelAt(tournament, m) ? 'level' : 'over', ...said };
  if (game) return { kind: 'plays', ...said };
  if (seat.entrant <= 0) return { kind: 'nextFrom', ...said };
  return { kind: said.board ? 'goTo' : 'next', ...said };
}
