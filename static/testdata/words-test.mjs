// Checks that the languages say the same things: run by a Go test in a browser.

const asked = new URLSearchParams(location.search);

// wordsIn are all groups of words in a language; the address names their files.
async function wordsIn(language) {
  const files = asked.get('files').split(',').filter((file) => file !== 'basics');
  return Object.assign({}, ...(await Promise.all(files.map((file) => import(`../../${language}/words/${file}.mjs`)))));
}

const [en, es] = await Promise.all(['en', 'es'].map(wordsIn));

const failures = [];
const fail = (text) => failures.push(text);
let ran = 0;

// Texts that are the same in both languages: names, signs and numbers.
const alike = new Set([
  'common.name', 'common.letters', 'called.result', 'common.right', 'common.wrong', 'practice.animal', 'photos.species', 'debrief.clock', 'debrief.decimal',
  'debrief.percent', 'debrief.seconds', 'debrief.interval', 'debrief.number', 'common.seconds', 'species.both', 'sheet.plusOne', 'sheet.columns.buchholz', 'sheet.columns.sonneborn', 'sheet.by.Buchholz', 'sheet.by.Sonneborn-Berger', 'sheet.by.points', 'tournament.short.unneeded', 'station.animal', 'club.fairColumns.total', 'host.difficulties.2', 'host.difficulties.3', 'host.difficulties.4',
]);

const match = { id: 3, home: { entrant: 1 }, away: { entrant: 2 }, result: { outcome: 'played', home: 2, away: 1, winner: 1 } };
const tournament = { phase: 'play', settings: { format: 'swiss' }, rounds: 3, columns: [{ round: 2 }], entrants: [{ name: 'x' }, { name: 'y' }], games: {} };

// What goes without saying.
const blank = new Set(['sheet.by.points', 'tournament.short.unneeded']);

// Arguments for every word that is a function, by its name or that of its group.
const game = { n: 2, of: 3, name: 'Nombre', kind: 'open', questions: 8 };
const share = { right: 3, of: 4, p: 0.75, low: 0.3, high: 0.95 };
const test = { teams: 5, items: 8, mean: 3.5, sd: 1.25, kr20: -0.5, sem: 1, caution: 'English' };
const given = {
  'common.picks': [2], 'common.round': [game], 'common.question': [{ n: 3 }, game], 'common.seconds': [12], 'common.drawn': [['A', 'B']],
  'team.verdicts': [], 'team.standing': [2, 100], 'team.gained': [115, 15], 'team.asksIn': ['en'], 'host.readyMore': [2], 'board.afterRound': [game], 'board.round': [game], 'board.question': [{ n: 3 }, game], 'practice.verdict': [true], 'practice.level': ['x', 'y'],
  'practice.notHere': ['x'], 'practice.rosterIs': ['x'], 'host.keyIs': ['A', 'x.'], 'host.confirm.remove': ['x'], 'host.confirm.start': [['x']],
  'debrief.where': [{ code: 'x', date: '2026-05-09', ended: true }], 'debrief.interval': [share], 'debrief.outOf': [share], 'debrief.wereRight': [share, 5], 'debrief.wasHardest': [share], 'debrief.isWeakest': [share], 'debrief.mixedUp': [{ times: 2, of: 9 }], 'debrief.range': [share],
  'debrief.reliability': [test], 'debrief.takenCaption': ['skull', 'traits'], 'debrief.pair': [{ a: 'x', b: 'y' }], 'debrief.number': [{ round: 1, number: 2 }],
  'photos.added': ['x', 'Y'], 'photos.line': ['x', 'Y', 'z'], 'announce.asking': [{ n: 3 }], 'announce.walk': [{ turn: 1, of: 2 }], 'announce.station': [{ turn: 1, of: 2 }], 'nicknames.name': ['x', 'y'], 'species.both': ['x', 'y'],
  'club.moved': [1, 2], 'club.movedSaid': [1, 2], 'club.share': [1, 2], 'club.percentOf': [1, 2], 'club.rating': [{ rating: 1500, deviation: 350 }], 'club.range': [{ rating: 1500, deviation: 350 }],
  'club.takeOutOne': [{ title: 'x', date: '2026-05-09' }], 'club.anewOne': [{ title: 'x', date: '2026-05-09' }], 'club.gameLine': [{ date: '2026-05-09', title: 'x', game: 'y', ended: false, share }],
  'club.trendAlt': ['x', [{ date: '2026-05-09', share }]], 'club.pair': [{ a: 'x', b: 'y', subject: 'skull' }], 'club.tableCaption': ['2026-05-09'],
  'keeping.line': [{ code: 'x', ended: true, written: '2026-05-09' }], 'keeping.eraseOne': ['x'], 'keeping.newKeyIs': ['x'], 'keeping.confirmGame': ['x'], 'keeping.eraseNameOf': ['x'], 'keeping.confirmName': ['x'], 'keeping.extraFor': ['x'],
  'seasonPlan.length': ['16:00', 45], 'seasonPlan.paperOf': ['x', '2026-05-09'], 'seasonPlan.range': [{ low: 0.3, high: 0.95 }], 'seasonPlan.pair': ['x', 'y', 'Skull'], 'seasonPlan.about': [{ new: ['x'], review: [], extra: [] }], 'seasonPlan.day': ['2026-05-09'], 'seasonPlan.next': ['2026-05-09'], 'seasonPlan.known': ['2026-05-09'],
  'recipes.of': [['skull', 'track']], 'recipes.own': [[{ name: 'x' }]], 'rounds.line': [{ count: 8, seconds: 30, subjects: ['skull'], typed: true }, 'x'], 'rosters.counted': ['x', 4], 'rosters.see': ['x'],
  'planning.told': [{ round: 1, question: 2 }],
  'board.wrong': [['x', 'y']], 'board.late': [['x']], 'ready.rule': [{ kind: 'buzz', typed: true }], 'ready.points': [{ points: 100, speed: 50, penalty: 25 }], 'board.first': [['x', 'y']], 'station.rotation': [{ turn: 1, of: 2 }], 'station.specimen': ['x', 'y'], 
  'sheet.phase': [tournament], 'sheet.estimate': [{ matches: 2, minutes: 9 }, 0], 'sheet.round': ['winners', 1, 2, false], 'sheet.from': [{ from: 3, loser: true }], 'sheet.playingAt': ['x'],
  'sheet.sides': ['x', 'y'], 'sheet.first': [['x', 'y']], 'sheet.spoken': [match, 'x', 'y'], 'sheet.outcome': [match, tournament], 'sheet.tableTitle': [{ part: 'pool', pool: 1 }],
  'sheet.rules': [{ format: 'pools', lots: true, seed: 7 }], 'directing.up': ['x'], 'directing.renameTitle': ['x'], 'directing.withdrawAsk': ['x', false], 'directing.resultTitle': ['x'], 'directing.scoreOf': ['x'],
  'directing.takeOver': [[2, 1]], 'directing.noPhone': [['x', 'y']], 'directing.openAsk': [['x', 'y']], 'directing.freePhoneAsk': ['x'], 'sheet.playedAt': [2, 2], 'called.nextFrom': [{ from: 3, loser: true }],
  'called.goTo': [2, 2], 'called.plays': [2, 2], 'called.place': [2, 8], 'called.soFar': [2, 8], 'called.noBoard': [3, 2], 'called.signedInOf': [2, 8], 'called.lookAs': ['x'], 'called.signedIn': ['x'], 'called.lookingOn': ['x'], 'called.meets': ['x'], 'called.next': ['x'], 'called.playsMore': ['x'], 'directing.undo': ['x'], 'directing.redo': ['x'], 'directing.voided': [[1, 2]],
  'hub.refused': [{ code: 'too_late', message: 'English' }], 'hub.notice': [{ noticeCode: 'restarted', notice: 'English' }], 'hub.caution': [test], 'hub.title': ['Review round'], 'hub.plan': [{ title: 'Review round', rounds: [{ name: 'First to buzz' }, { name: 'Skulls, tracks and scat' }] }],
};

// English that must not stand in the Spanish, as whole words.
const english = /\b(the|and|of|is|are|was|your|you|this|that|with|for|not|answer|question|team|game|round|host|board|again)\b/i;

function text(path, value, word) {
  ran++;
  if (typeof value !== 'string' && typeof value !== 'number') return fail(`${path} gives ${typeof value}: ${value}`);
  if (value === '' && !blank.has(word)) return fail(`${path} is empty`);
  if (/undefined|NaN|\[object/.test(value)) fail(`${path} says ${value}`);
  if (path.startsWith('es.') && !alike.has(word)) {
    const plain = String(value).replace(/otter-burrow-42|removed team/g, '');
    if (english.test(plain)) fail(`${path} has English in it: ${value}`);
  }
  return undefined;
}

function result(path, value, word) {
  if (value !== null && typeof value === 'object') Object.entries(value).forEach(([k, v]) => result(`${path}.${k}`, v, word));
  else text(path, value, word);
}

function compare(word, a, b) {
  if (typeof a !== typeof b || Array.isArray(a) !== Array.isArray(b)) return fail(`${word} is ${typeof a} in English and ${typeof b} in Spanish`);
  if (typeof a === 'function') {
    if (a.length !== b.length) return fail(`${word} takes ${a.length} in English and ${b.length} in Spanish`);
    const args = given[word] ?? Array(a.length).fill(2);
    for (const n of given[word] ? [null] : [1, 2]) {
      const all = n ? args.map((x) => (x === 2 ? n : x)) : args;
      result(`en.${word}`, a(...all), word);
      result(`es.${word}`, b(...all), word);
    }
    return undefined;
  }
  if (typeof a !== 'object') {
    text(`en.${word}`, a, word);
    text(`es.${word}`, b, word);
    if (a === b && !alike.has(word)) fail(`${word} is the same in both languages: ${a}`);
    return undefined;
  }
  const free = ['nicknames.places', 'nicknames.animals', 'refusals'].includes(word);
  const keys = free ? [] : [...new Set([...Object.keys(a), ...Object.keys(b)])];
  for (const k of keys) {
    if (!Object.hasOwn(a, k)) fail(`${word}.${k} is missing in English`);
    else if (!Object.hasOwn(b, k)) fail(`${word}.${k} is missing in Spanish`);
    else compare(word ? `${word}.${k}` : k, a[k], b[k]);
  }
  return undefined;
}

compare('', en, es);

// Whatever the hub says by a code is said in Spanish; a code not known here leaves the hub's words.
const codes = asked.get('codes').split(',');
for (const code of codes) if (es.hub.refused({ code, message: '' }) === '') fail(`no Spanish for the hub's refusal ${code}`);
for (const code of asked.get('notices').split(',')) {
  if (es.hub.notice({ noticeCode: code, notice: '' }) === '') fail(`no Spanish for the hub's notice ${code}`);
}
if (es.hub.refused({ code: 'new_one', message: 'As it came.' }) !== 'As it came.') fail('an unknown refusal is not shown as it came');

const longest = Math.max(...es.nicknames.places.flatMap((p) => es.nicknames.animals.map((a) => es.nicknames.name(p, a).length)));
if (longest > 24) fail(`a suggested name has ${longest} letters`);

document.body.dataset.failures = JSON.stringify(failures);
document.body.dataset.ran = String(ran);
