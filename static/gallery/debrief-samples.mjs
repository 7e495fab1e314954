// Canned reports for the gallery.

const share = (right, of) => {
  const p = right / of;
  const half = 0.98 / Math.sqrt(of + 4);
  return { right, of, p, low: Math.max(0, p - half), high: Math.min(1, p + half) };
};

const animals = ['American beaver', 'North American river otter', 'Red fox', 'Northern raccoon'];
const prompts = [
  'Which animal’s skull has a wide gap between the front teeth and the cheek teeth, and orange front teeth?',
  'Which of these is true of the northern raccoon but not of the North American river otter?', 'Whose front print is this?', 'Whose scat is this?',
];
const traits = ['wide gap in the tooth row', 'toes of the front print', 'ends of the scat', 'webs between the hind toes'];
// The name of SVG, which is written as an address: no file here names one.
const svg = new DOMParser().parseFromString('<svg></svg>', 'text/html').querySelector('svg').namespaceURI;
const drawing = { svg: `<svg xmlns="${svg}" viewBox="0 0 60 40"><path d="M4 30c6-18 20-24 34-22s16 10 18 16l-8 6-30 4z" fill="none" stroke="#2b2b28"/></svg>`, alt: 'Drawing of a skull' };
const mixed = (subject, a, b) => ({ subject, a, b, times: 5, of: 14, drawings: [drawing, drawing], separators: [{ trait: 'orbits', a: 'open behind', b: 'closed by bone' }, { trait: 'length of the skull', a: '90 to 110 mm', b: '120 to 150 mm' }] });
const marks = (q, t) => ((q * 7 + t * 5) % 11 === 0 ? 'none' : (q * 3 + t * 2) % 7 > 4 || q === 4 && t < 3 ? 'wrong' : 'right');

function question(teams, n) {
  const answers = teams.map((_, t) => {
    const mark = marks(n, t);
    return { mark, option: mark === 'none' ? -1 : mark === 'right' ? n % 4 : (n + 1 + t % 2) % 4, ms: mark === 'none' ? -1 : 4000 + ((n * 31 + t * 17) % 23) * 800, points: 0 };
  });
  const right = answers.filter((a) => a.mark === 'right').length;
  const picks = animals.map((_, i) => answers.filter((a) => a.option === i).length);
  return {
    round: n < 8 ? 0 : 1, number: n % 8, kind: n < 8 ? 'open' : 'buzz', status: n === 6 ? 'void' : 'closed', at: n * 48_000, id: `q-${n}`, subject: ['skull', 'track', 'scat'][n % 3],
    prompt: prompts[n % 4], options: animals, about: { template: 'has-trait', species: animals }, key: n % 4, share: share(right, answers.length), answered: answers.filter((a) => a.ms >= 0).length,
    picks, time: { q1: 6000, median: 9000 + n * 400, q3: 15_000 }, answers, corrected: n === 4 ? -0.21 : n > 7 ? null : 0.1 + n * 0.06, flags: n === 4 ? ['negative'] : n === 2 ? ['everybody'] : [],
  };
}

export function reportOf(names, questions) {
  const topics = traits.map((name, i) => ({ name, questions: 3, share: share(3 + 4 * i, 18), level: ['weak', '', 'strong', 'strong'][i] }));
  const teams = names.map((name, i) => ({ id: `t${i + 1}`, name, score: 1200 - 40 * i, share: share(11 - i % 6, 12), topics: { traits: topics.slice(i % 3) } }));
  return {
    code: 'otter-burrow-42', title: 'Spring review', date: '2026-05-09', ended: true, trimmed: false, share: share(61, 84), teams,
    questions: Array.from({ length: questions }, (_, n) => question(teams, n)),
    test: { teams: names.length, items: questions, mean: 7.17, sd: 1.95, kr20: 0.61, sem: 1.21, small: questions < 30, caution: questions >= 30 ? '' : `These figures rest on ${names.length} teams and ${questions} questions. By common practice they mean little with fewer than 30 teams or 10 questions.` },
    topics: { subjects: ['skull', 'track', 'scat'].map((name, i) => ({ name, questions: 4, share: share(20 - 5 * i, 28), level: '' })), traits: topics },
    mixed: [mixed('skull', animals[1], animals[3]), mixed('track', animals[2], animals[0]), mixed('scat', animals[3], animals[1])],
    confusions: [{ subject: 'skull', of: 'species', names: animals, counts: [[9, 1, 0, 0], [1, 6, 0, 4], [0, 0, 8, 2], [0, 3, 0, 7]] }, { subject: 'track', of: 'traits', names: traits, counts: [[4, 2, 0, 0], [0, 5, 0, 0], [0, 0, 0, 0], [1, 0, 0, 3]] }],
    advice: { pairs: [{ subject: 'skull', a: 'North American river otter', b: 'Northern raccoon', share: share(7, 21), expected: 0.09 }] },
  };
}

export const emptyReport = {
  ...reportOf([], 0), ended: false, share: { right: 0, of: 0, p: null, low: null, high: null },
};
