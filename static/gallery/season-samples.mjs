// Canned seasons, teams and trends for the gallery.

const share = (right, of) => {
  const p = right / of;
  const half = 0.98 / Math.sqrt(of + 4);
  return { right, of, p, low: Math.max(0, p - half), high: Math.min(1, p + half) };
};

const linesOf = (names) => names.map((name, i) => ({
  rank: i === 3 ? 3 : i + 1, was: [2, 1, 3, 0, 8][i] ?? i, team: name.toLowerCase(), name, points: 9340 - 260 * (i === 3 ? 2 : i), right: 88 - 2 * i, of: 112, games: 8 - (i % 3),
}));
const ratingsOf = (names) => names.map((name, i) => ({ team: name.toLowerCase(), name, rating: 1712 - 21 * i, deviation: 61 + 7 * (i % 6), games: 8 - (i % 3) }));

const dates = ['2026-03-04', '2026-03-18', '2026-04-15', '2026-05-06', '2026-05-20'];
const games = dates.map((date, i) => ({ game: `otter-burrow-4${i}`, title: 'Spring review', date, due: i === 4, teams: i === 4 || i === 1 ? 0 : 7, ended: i < 4, share: share(40 + 6 * i, 84), chosen: true }));

const series = (name, from, step, on = dates) => ({ name, moments: on.map((date, i) => ({ date, share: share(Math.min(28, Math.max(0, from + step * i)), 28) })) });
const trends = {
  all: series('', 13, 2.5).moments.map((m) => ({ ...m, share: share(Math.round(m.share.p * 168), 168) })),
  subjects: [series('skull', 12, 3), series('track', 15, 1), series('scat', 9, 2, dates.slice(1))],
  traits: [series('wide gap in the tooth row', 10, 4), series('toes of the front print', 20, -2), series('ends of the scat', 14, 0, dates.slice(0, 2)), series('webs between the hind toes', 9, 4)],
  species: [series('American beaver', 16, 3), series('North American river otter', 12, 1), series('thirteen-lined ground squirrel', 8, 2, [dates[2]])],
  confused: [{ subject: 'skull', a: 'North American river otter', b: 'Northern raccoon', share: share(31, 140), expected: 0.09, ...series('', 14, -3) }],
};
const lone = { ...trends, all: trends.all.slice(0, 1), subjects: [], traits: [series('wide gap in the tooth row', 10, 4, dates.slice(0, 1))], species: [], confused: [] };

const teamsOf = (names, count) => Array.from({ length: count }, (_, t) => {
  const players = names.filter((_, i) => i % count === t).map((name, i) => ({ name, rating: 1650 - 47 * i + 9 * t, known: (i + t) % 3 !== 0 }));
  const total = players.reduce((sum, p) => sum + p.rating, 0);
  return { players, total, mean: total / players.length };
});

const animals = { 'Lynx rufus': 'bobcat', 'Castor canadensis': 'American beaver', 'Procyon lotor': 'raccoon', 'Lontra canadensis': 'river otter', 'Vulpes vulpes': 'red fox' };
const itemsOf = (subject, ...of) => of.map((animal) => ({ animal, subject }));
const [lynx, beaver, raccoon, otter, fox] = Object.keys(animals);
const agenda = (fresh, review, extra = [], pairs = []) => ({ new: fresh, review, extra, pairs, spare: 240 });
const likely = (name, p, doubt) => ({ name, p, low: Math.max(0, p - doubt), high: Math.min(1, p + doubt / 2) });
const seasonWish = { contest: '2027-04-10', from: '2027-01-04', week: [{ weekday: 2, time: '16:00', minutes: 45 }], off: ['2027-02-16', '2027-03-22/2027-03-26'], roster: 'furbearers', subjects: ['skull', 'track'], double: ['bobcat'], new: 180, review: 60, language: '' };
const seasonMeeting = (date, state, rest) => ({ date, time: '16:00', minutes: 45, state, right: 0, of: 0, ...rest });
const seasonAhead = {
  meetings: [
    seasonMeeting('2027-01-05', 'held', { game: 'otter-burrow-40', right: 61, of: 84 }),
    seasonMeeting('2027-01-12', 'missed'),
    seasonMeeting('2027-01-19', 'next', { agenda: agenda([...itemsOf('skull', lynx, fox), ...itemsOf('track', otter)], itemsOf('track', raccoon, beaver), [], [{ a: lynx, b: fox, subject: 'track' }]) }),
    seasonMeeting('2027-01-26', 'later', { agenda: agenda(itemsOf('track', fox), itemsOf('skull', lynx, fox), itemsOf('track', raccoon)) }),
    seasonMeeting('2027-02-02', 'later', { agenda: agenda([], itemsOf('track', fox, otter), itemsOf('skull', lynx, beaver)) }),
  ],
  left: itemsOf('skull', otter, raccoon), lacking: 360, more: 1, topics: 10, names: animals,
  known: { all: likely('', 0.84, 0.14), subjects: [likely('track', 0.79, 0.17), likely('skull', 0.88, 0.11)], animals: Object.keys(animals).map((a, i) => likely(a, 0.68 + 0.06 * i, 0.2 - 0.02 * i)) },
};
const seasonRosters = [{ name: 'furbearers', title: 'Furbearers', animals: ['American beaver', 'bobcat', 'raccoon', 'red fox', 'river otter'] }, { name: 'waterside', title: 'Waterside', animals: ['American beaver', 'river otter'] }];

export function clubSamples(names) {
  const few = names.slice(0, 7);
  const season = { id: 'Spring 2026', open: true, ratings: false };
  const view = { seasons: ['Autumn 2025', season.id], season, dates: dates.slice(0, 4), until: '', table: linesOf(few), ratings: ratingsOf(few), games };
  const host = (name, View, props) => ({ page: `host ${name}`, view: View, props });
  const board = (props) => ({ page: 'board', view: 'SeasonBoard', props: { board: { season: season.id, ratings: [], ...props } } });
  return {
    'season': host('season', 'SeasonPage', { view }),
    'season-32': host('season', 'SeasonPage', { view: { ...view, table: linesOf(names), ratings: ratingsOf(names) } }),
    'season-none': host('season', 'SeasonPage', { view: { seasons: [], season: null, dates: [], until: '', table: [], ratings: [], games: [] } }),
    'season-empty': host('season', 'SeasonPage', { view: { ...view, dates: [], table: [], ratings: [], games: games.slice(4), season: { ...season, open: false } } }),
    'season-refused': host('season', 'SeasonPage', { view, message: 'That game is not kept on this hub any more.' }),
    'season-board': board({ table: linesOf(few) }),
    'season-board-32': board({ table: linesOf(names) }),
    'season-board-ratings': board({ table: linesOf(names.slice(0, 12)), ratings: ratingsOf(names.slice(0, 12)) }),
    'season-board-empty': board({ table: [] }),
    'season-board-closed': { page: 'board', view: 'BoardClosed', props: {} },
    'season-plan': host('season-plan', 'SeasonPlan', { view: { season: 'Spring 2027', seasons: [], wish: seasonWish, plan: seasonAhead }, rosters: seasonRosters, today: '2027-01-14' }),
    'season-plan-none': host('season-plan', 'SeasonPlan', { view: { season: '', seasons: [], wish: null, plan: null }, rosters: seasonRosters, today: '2027-01-04' }),
    'season-plan-over': host('season-plan', 'SeasonPlan', { view: { season: 'Spring 2027', seasons: [], wish: seasonWish, plan: { ...seasonAhead, meetings: seasonAhead.meetings.slice(0, 2), left: [] } }, rosters: seasonRosters, today: '2027-04-14', message: 'The hub does not answer.' }),
    'fair-teams': host('fair', 'FairTeams', { seasons: view.seasons, made: null }),
    'fair-teams-rated': host('fair', 'FairTeams', { seasons: view.seasons, list: names.slice(0, 14).join('\n'), made: { rated: true, seed: 4711, spread: 12.4, teams: teamsOf(names.slice(0, 14), 4) } }),
    'fair-teams-lot': host('fair', 'FairTeams', { seasons: [], list: names.slice(0, 9).join('\n'), made: { rated: false, seed: 4711, spread: 0, teams: teamsOf(names.slice(0, 9), 3) } }),
    'trends': host('trends', 'TrendsPage', { view: { games, left: 0, unread: 0, trends }, seasons: view.seasons, season: season.id }),
    'trends-one-date': host('trends', 'TrendsPage', { view: { games: games.slice(0, 1), left: 12, unread: 1, trends: lone } }),
    'trends-none': host('trends', 'TrendsPage', { view: { games: [], left: 0, unread: 0, trends: { ...lone, all: [] } } }),
  };
}
