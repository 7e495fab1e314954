// Canned states: every screen in every state it can be in, for the gallery,
// the screenshots and the accessibility checks. No page of a game imports it.

import { clubSamples } from './season-samples.mjs';
import { emptyReport, reportOf } from './debrief-samples.mjs';
import { planSamples } from './plan-samples.mjs';
import { stationSamples } from './station-samples.mjs';
import { tournamentSamples } from './tournament-samples.mjs';

// A state received at Infinity has a clock that stands still, so that two
// screenshots of the same screen are alike.
const frozen = Infinity;

const names = [
  'Marsh Wrens', 'Alder Voles', 'Creek Otters', 'Pond Herons', 'Winter Hares', 'Ridge Martens', 'Meadow Owls', 'Moss Shrews',
  'Fern Weasels', 'Birch Beavers', 'Canyon Lynxes', 'Thicket Badgers', 'Marsh Otters', 'Alder Owls', 'Creek Herons', 'Pond Shrews',
  'Winter Weasels', 'Ridge Voles', 'Meadow Hares', 'Moss Martens', 'Fern Wrens', 'Birch Badgers', 'Canyon Voles', 'Thicket Lynxes',
  'Marsh Beavers', 'Alder Martens', 'Creek Weasels', 'Pond Wrens', 'Winter Owls', 'Ridge Shrews', 'Meadow Badgers', 'Thicket Salamanders East',
];

const standings = names.map((name, i) => ({
  rank: i === 3 ? 3 : i + 1, team: `t${i + 1}`, name, score: 1240 - 35 * (i === 3 ? 2 : i), right: Math.max(0, 11 - Math.floor(i / 3)),
  before: Math.max(0, 820 - 25 * i - (i % 3) * 60), was: i === 1 ? 1 : i === 0 ? 3 : i === 2 ? 2 : i + 1,
}));

const open = { n: 1, of: 2, name: 'Skulls, tracks and scat', kind: 'open', questions: 8, points: 100, speed: 50 };
const buzz = { n: 2, of: 2, name: 'First to buzz', kind: 'buzz', questions: 6, points: 100, penalty: 50 };

const skull = {
  id: 'q-1', n: 3, subject: 'skull', plate: '',
  prompt: 'Which animal’s skull has a wide gap between the front teeth and the cheek teeth, and orange front teeth?',
  options: ['American beaver', 'North American river otter', 'Red fox', 'Virginia opossum', 'Northern raccoon'],
};
const track = {
  id: 'q-2', n: 2, subject: 'track', plate: '',
  prompt: 'Which animal’s front track shows five toes?', options: ['Coyote', 'Northern raccoon', 'White-tailed deer'],
};
// As long as computed questions get.
const longest = {
  id: 'q-3', n: 4, subject: 'track', plate: '',
  prompt: 'Which animal is this? Its hind print shows no long heel, its front print does not show claw marks well ahead of the toes, and its front print has a chevron-shaped bar in the heel pad.',
  options: ['thirteen-lined ground squirrel', 'red fox', 'black-tailed jackrabbit', 'American badger', 'North American porcupine'],
};
// A photo's place is held by what is always there.
const heldPlace = new URL('../style/icon.svg', import.meta.url).pathname;
const photographed = { ...skull, prompt: 'Whose skull is this?', plate: heldPlace, plateAlt: 'Photograph of a skull', credit: 'Own photo, school collection' };
const plated = { ...photographed, credit: '', prompt: 'This skull is drawn from the side. Whose skull is it?' };
// Drawings as options; their places are held likewise.
const pictured = {
  ...track, id: 'q-4', prompt: 'Which of these is the front print of the bobcat?', options: ['Plate A', 'Plate B', 'Plate C', 'Plate D'],
  plates: [1, 2, 3, 4].map((n) => ({ plate: heldPlace, plateAlt: `Drawing of a single print with ${n} toes` })),
};
const picturedReason = 'Plate B is the bobcat’s: its track rarely shows claw marks, and its front print shows 4 toes. Plate A is the North American river otter’s: its front print shows 5 toes. Plate C is the red fox’s: its track usually shows claw marks. Plate D is the coyote’s: its track usually shows claw marks.';
const longestReason = 'The red fox fits on every count. The thirteen-lined ground squirrel’s front print shows claw marks well ahead of the toes; the black-tailed jackrabbit’s hind print shows a long heel; the American badger’s front print shows claw marks well ahead of the toes; the North American porcupine’s front print has a pebbled heel pad.';
const reason = 'Beavers are rodents: they have no canines, so a wide gap (the diastema) is left, and iron in the enamel colours the front teeth orange.';

const base = {
  type: 'state', seq: 41, at: frozen, paused: false, notice: '', title: 'Spring review', code: 'otter-burrow-42',
  round: open, question: null, left: 0, span: 30000, teams: 6, answered: 0, leaders: standings.slice(0, 6),
};
const lobby = { ...base, phase: 'lobby', round: null, leaders: [] };
const ready = { ...base, phase: 'ready', leaders: [] };
const readyToBuzz = { ...ready, round: buzz };
const readyMatch = { ...readyToBuzz, sides: ['Alder Voles', 'Creek Otters'] };
const asking = { ...base, phase: 'asking', question: skull, left: 17400, answered: 4 };
const revealed = { ...base, phase: 'revealed', question: skull, answered: 5, reveal: { key: 0, reason, picks: [3, 1, 0, 0, 1], skipped: false, undone: false } };
// A drawing with a bar and parts, as those of the hub have them.
const toes = (n, wide) => `<svg xmlns="http://www.w3.org/2000/svg" width="${wide}mm" height="90mm" viewBox="0 0 ${wide} 90"><g fill="none" stroke="#2b2b28">${Array.from({ length: n }, (_, i) => `<path data-n="toe" fill="#ebe6d8" d="M${8 + (i * (wide - 20)) / n} 20h8v16h-8z"/>`).join('')}<path data-n="pad" fill="#ebe6d8" d="M20 48h30v20h-30z"/><path data-n="bar" d="M10 80h20v1h-20z"/><text x="34" y="82" font-size="4">2 cm</text></g></svg>`;
const lesson = {
  trait: 'front_toes', parts: ['toe'], lines: false, recalled: false, sides: [
    { option: 1, animal: 'northern raccoon', latin: 'Procyon lotor', says: 'shows 5 toes', plate: '', svg: toes(5, 76), plateAlt: 'Drawing of a single print with five toes' },
    { option: 0, animal: 'coyote', latin: 'Canis latrans', says: 'shows 4 toes', plate: '', svg: toes(4, 60), plateAlt: 'Drawing of a single print with four toes' },
  ],
};
// Two prints of one animal: nothing tells them apart.
const sameAnimal = { ...lesson, trait: '', parts: [], sides: [lesson.sides[0], { ...lesson.sides[0], option: -1, svg: toes(5, 60) }].map((s) => ({ ...s, option: -1, says: '' })) };
const pairRevealed = {
  ...revealed,
  question: { ...track, prompt: 'Are these two prints of the same animal?', options: ['The same animal', 'Two animals'] },
  reveal: { key: 0, reason: 'Both are the northern raccoon’s: its front print, and its hind print.', picks: [3, 2], skipped: false, undone: false, lesson: sameAnimal },
};
const skipped = { ...revealed, reveal: { ...revealed.reveal, skipped: true } };
const undone = { ...revealed, reveal: { ...revealed.reveal, undone: true } };
const free = { ...base, phase: 'asking', round: buzz, question: track, left: 21000, buzz: { team: '', name: '', locked: 0 } };
const rebound = { ...free, buzz: { ...free.buzz, locked: 3, out: ['Alder Voles', 'Creek Otters'], late: ['Ridge Martens'] } };
const held = { ...free, phase: 'buzzed', left: 6200, span: 10000, buzz: { team: 't2', name: 'Alder Voles', locked: 2, drawn: ['Alder Voles', 'River Otters'] } };
const buzzRevealed = { ...free, phase: 'revealed', left: 0, reveal: { key: 1, reason: 'The raccoon’s front track shows five toes.', picks: [1, 1, 0], skipped: false, undone: false } };
const rest = { ...base, phase: 'break', leaders: standings.slice(0, 5) };
const ended = { ...base, phase: 'ended', round: buzz };
const typed = { ...asking, question: { ...skull, typed: true, prompt: 'Name this animal. Its skull has orange incisors and is 120 to 150 mm long.', options: [] } };
const asking4 = { ...asking, question: pictured };
const revealed4 = { ...revealed, question: pictured, reveal: { key: 1, reason: picturedReason, picks: [1, 3, 1, 0], skipped: false, undone: false } };
const paused = { ...asking, paused: true, notice: 'The hub was restarted. The host resumes when all are back.', noticeCode: 'restarted' };

const you = { team: 't1', name: 'Marsh Wrens', score: 300, rank: 1, right: 3, about: '', option: null, answer: '', locked: false, verdict: '', gained: 0 };
const chosen = { ...you, option: 0 };

const plan = {
  title: 'Spring review', roster: 'waterside', seed: 4711, rounds: [
    { name: open.name, kind: 'open', subjects: ['skull', 'track', 'scat'], count: 8, seconds: 30, points: 100, speed: 50, penalty: 0, wait: 250, difficulty: 0, typed: false },
    { name: buzz.name, kind: 'buzz', subjects: ['track'], count: 6, seconds: 30, points: 100, speed: 0, penalty: 50, wait: 250, difficulty: 3, typed: false },
  ],
};
const hostTeams = standings.slice(0, 6).map(({ team, name, score, right }, i) => ({
  team, name, score, right, online: i !== 4, answered: i < 4, locked: false, extra: i === 2 ? 50 : 0,
}));
const hosted = (state, fields = {}) => ({
  ...state,
  host: {
    key: 0, reason, teams: hostTeams, plan, canUndo: false, joinURL: 'http://192.168.1.20:7600/',
    rosters: ['furbearers', 'waterside', 'woodland-edge'], languages: ['en', 'es'], next: track.prompt, ...fields,
  },
});
const track1 = { key: 1, reason: buzzRevealed.reveal.reason };
const lockedTeams = hostTeams.map((t, i) => ({ ...t, answered: false, locked: i > 3 }));

const phone = (state, mine = you, props = {}) => ({ page: 'team', view: 'TeamScreen', props: { state, you: { ...mine, about: state.question?.id ?? '' }, link: 'up', pending: null, message: '', ...props } });
const projector = (state, props = {}) => ({ page: 'game board', view: 'BoardScreen', props: { state, link: 'up', address: '192.168.1.20:7600', ...props } });
const desk = (state, props = {}) => ({ page: 'host', view: 'Console', props: { state, link: 'up', message: '', ...props } });
const all = { teams: names.length, names, leaders: standings };

const practised = {
  roster: 'furbearers', rosters: ['furbearers', 'waterside'], subjects: ['skull', 'track', 'scat'], chosen: ['skull', 'track'],
  count: { due: 7, fresh: 402, resting: 55 }, kept: true, offline: true, saveAt: '/practice/save?roster=furbearers',
  lines: [
    { name: 'Northern raccoon', asked: 6, facts: 31, due: 4, span: 21_600_000, level: 'weak' },
    { name: 'American beaver', asked: 9, facts: 28, due: 3, span: 345_600_000, level: 'fair' },
    { name: 'North American river otter', asked: 12, facts: 30, due: 0, span: 3_801_600_000, level: 'strong' },
  ],
};
const flash = { question: { ...skull, key: 0, reason }, plate: null, told: null, sitting: { right: 3, of: 4, length: 10 }, lesson: null };

export const samples = {
  ...planSamples(plan),
  'landing': { page: 'index', view: 'Landing', props: {} },

  'team-name': { page: 'team', view: 'NameForm', props: { suggestion: 'Marsh Wrens' } },
  'team-name-taken': { page: 'team', view: 'NameForm', props: { suggestion: 'Marsh Wrens', message: 'The name "Marsh Wrens" is taken: choose another.' } },
  'team-connecting': { page: 'team', view: 'Connecting', props: {} },
  'team-lobby': phone(lobby),
  'team-ready': phone(ready),
  'team-ready-buzz': phone(readyToBuzz),
  'team-ready-match': phone(readyMatch),
  'team-open': phone(asking),
  'team-open-sending': phone(asking, you, { pending: { kind: 'answer', option: 1 } }),
  'team-open-sent': phone(asking, chosen),
  'team-open-refused': phone(asking, you, { message: 'The time was up before your answer reached the hub.' }),
  'team-paused': phone(paused),
  'team-restarting': phone(asking, you, { link: 'restarting' }),
  'team-extra-time': phone({ ...asking, left: -4000 }, { ...you, extra: 50 }),
  'team-time-up': phone({ ...asking, left: -4000 }),
  'team-time-up-sent': phone({ ...asking, left: -4000 }, chosen),
  'team-time-up-typed': phone({ ...typed, left: -4000 }),
  'team-time-up-typed-sent': phone({ ...typed, left: -4000 }, { ...you, option: 0, answer: 'American beaver' }),
  'team-time-up-buzz': phone({ ...free, left: 0 }),
  'team-typed': phone(typed),
  'team-typed-sent': phone(typed, { ...you, option: 0, answer: 'American beaver' }),
  'team-lost': phone(asking, you, { link: 'lost' }),
  'team-buzz': phone(free),
  'team-buzz-sending': phone(free, you, { pending: { kind: 'buzz' } }),
  'team-buzz-yours': phone(held, { ...you, team: held.buzz.team }),
  'team-buzz-other': phone(held),
  'team-buzz-locked': phone(rebound, { ...you, option: 0, locked: true, verdict: 'wrong' }),
  'team-buzz-late': phone(rebound, { ...you, locked: true, verdict: 'late' }),
  'team-right': phone(revealed, { ...chosen, verdict: 'right', gained: 132 }),
  'team-wrong': phone(revealed, { ...chosen, option: 1, verdict: 'wrong' }),
  'team-wrong-penalty': phone(buzzRevealed, { ...chosen, verdict: 'wrong', gained: -50 }),
  'team-taught': phone({ ...buzzRevealed, reveal: { ...buzzRevealed.reveal, lesson } }, { ...chosen, verdict: 'wrong' }),
  'team-taught-same': phone(pairRevealed, { ...chosen, option: 1, verdict: 'wrong' }),
  'team-none': phone(revealed, { ...you, verdict: 'none' }),
  'team-long': phone({ ...asking, question: longest }),
  'team-photo': phone({ ...revealed, question: photographed }, { ...chosen, verdict: 'right', gained: 132 }),
  'team-plate': phone({ ...asking, question: plated }),
  'team-plate-buzz': phone({ ...free, question: plated }),
  'team-pictured': phone(asking4),
  'team-pictured-buzz': phone({ ...free, question: pictured }),
  'team-pictured-yours': phone({ ...held, question: pictured }, { ...you, team: held.buzz.team }),
  'team-pictured-sent': phone(asking4, { ...you, option: 2 }),
  'team-pictured-revealed': phone(revealed4, { ...you, option: 2, verdict: 'wrong' }),
  'team-skipped': phone(skipped, chosen),
  'team-undone': phone(undone, { ...chosen, verdict: '' }),
  'team-break': phone(rest, { ...you, score: 1240 }),
  'team-ended': phone({ ...ended, leaders: standings.slice(0, 5) }, { ...you, name: 'Winter Hares', rank: 5, score: 1100 }),
  'team-removed': { page: 'team', view: 'Removed', props: {} },
  'team-replaced': { page: 'team', view: 'Replaced', props: {} },

  'practice-overview': { page: 'team practice', view: 'Overview', props: practised },
  'practice-overview-new': { page: 'team practice', view: 'Overview', props: { ...practised, lines: [], count: { due: 0, fresh: 464, resting: 0 } } },
  'practice-question': { page: 'team practice', view: 'Asking', props: flash },
  'practice-right': { page: 'team practice', view: 'Asking', props: { ...flash, told: { option: 0, right: true, span: 86_400_000 } } },
  'practice-wrong': { page: 'team practice', view: 'Asking', props: { ...flash, told: { option: 2, right: false, span: 21_600_000 } } },
  'practice-summary': { page: 'team practice', view: 'Summary', props: { sitting: { right: 8, of: 10, wrong: [{ prompt: skull.prompt, key: 'American beaver' }, { prompt: track.prompt, key: 'Northern raccoon' }] } } },
  'practice-resting': { page: 'team practice', view: 'Resting', props: { span: 9_000_000, sitting: { right: 17, of: 20 } } },

  'board-lobby-empty': projector({ ...lobby, teams: 0, names: [] }),
  'board-lobby': projector({ ...lobby, names: names.slice(0, 6) }),
  'board-lobby-32': projector({ ...lobby, ...all }),
  'board-ready': projector(ready),
  'board-ready-buzz': projector(readyToBuzz),
  'board-ready-match': projector(readyMatch),
  'board-open': projector(asking),
  'board-paused': projector(paused),
  'board-paused-four': projector({ ...paused, question: pictured }),
  'board-typed': projector(typed),
  'board-lost': projector(asking, { link: 'lost' }),
  'board-revealed': projector(revealed),
  'board-open-long': projector({ ...asking, question: longest }),
  'board-revealed-long': projector({ ...revealed, question: longest, reveal: { ...revealed.reveal, key: 1, reason: longestReason } }),
  'board-photo': projector({ ...revealed, question: photographed }),
  'board-pictured': projector(asking4),
  'board-pictured-revealed': projector(revealed4),
  'board-skipped': projector(skipped),
  'board-undone': projector(undone),
  'board-buzz': projector(free),
  'board-buzz-held': projector(held),
  'board-buzz-rebound': projector(rebound),
  'board-buzz-revealed': projector(buzzRevealed),
  'board-taught': projector({ ...buzzRevealed, reveal: { ...buzzRevealed.reveal, lesson } }),
  'board-taught-same': projector(pairRevealed),
  'board-taught-memory': projector({ ...buzzRevealed, reveal: { ...buzzRevealed.reveal, lesson: { ...lesson, recalled: true } } }),
  'board-taught-typed': projector({ ...revealed, question: { ...typed.question, options: ['northern raccoon'] }, reveal: { ...revealed.reveal, picks: [2], others: [{ name: 'coyote', picks: 3 }], lesson } }),
  'board-break': projector({ ...rest, leaders: standings.slice(0, 6) }),
  'board-ended': projector({ ...ended, teams: 10, leaders: standings.slice(0, 10) }),
  'board-ended-32': projector({ ...ended, ...all }),

  'host-key': { page: 'host', view: 'KeyForm', props: {} },
  'host-wrong-key': { page: 'host', view: 'KeyForm', props: { message: 'The hub does not know this key. A hub that was started again has a new one: go on in the page that it opened, or at the address that it shows in its window.' } },
  'host-choose': { page: 'host', view: 'ChooseGame', props: {} },
  'host-present': { page: 'host', view: 'Present', props: {} },
  'host-replaced': { page: 'host', view: 'TakenOver', props: {} },
  'host-lobby': desk(hosted(lobby)),
  'host-match': desk(hosted({ ...lobby, teams: 1 }, { teams: hostTeams.slice(0, 1), seats: [{ name: hostTeams[0].name, taken: true }, { name: hostTeams[1].name, taken: false }] })),
  'host-lobby-empty': desk(hosted({ ...lobby, teams: 0 }, { teams: [] })),
  'host-ready': desk(hosted(ready)),
  'host-open': desk(hosted(asking)),
  'host-pictured': desk(hosted(asking4, { key: 1, reason: picturedReason })),
  'host-paused': desk(hosted(paused)),
  'host-refused': desk(hosted(asking), { message: 'There is no verdict to take back.' }),
  'host-revealed': desk(hosted(revealed, { canUndo: true })),
  'host-buzz': desk(hosted(free, { ...track1, teams: lockedTeams })),
  'host-buzz-held': desk(hosted(held, { ...track1, teams: lockedTeams })),
  'host-break': desk(hosted(rest)),
  'host-ended': desk(hosted(ended, { next: '' })),
  'debrief': { page: 'host debrief', view: 'Report', props: { report: reportOf(names.slice(0, 7), 12) } },
  'debrief-32': { page: 'host debrief', view: 'Report', props: { report: reportOf(names, 40) } },
  'debrief-many': { page: 'host debrief', view: 'Report', props: { report: { ...reportOf(names.slice(0, 7), 12), trimmed: true } } },
  'debrief-none': { page: 'host debrief', view: 'Report', props: { report: emptyReport } },
  'debrief-choose': { page: 'host debrief', view: 'ChooseDebrief', props: {} },
  ...stationSamples({ base, hosted, phone, projector, desk, you, plan, plate: heldPlace }),
  'host-confirm': { page: 'host', view: 'Dialog', props: { title: 'Skip this question?', text: 'It counts for nothing, whatever has been answered.', yes: 'Skip it' } },
  'host-rename': { page: 'host', view: 'Dialog', props: { title: 'Rename Marsh Wrens', yes: 'Save', value: 'Marsh Wrens' } },
  ...clubSamples(names),
  ...tournamentSamples,
};
