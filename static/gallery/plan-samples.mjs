// Canned questions for the gallery's look at the planned ones, and what else
// the console keeps folded.

// The name of SVG, which is written as an address: no file here names one.
const svg = new DOMParser().parseFromString('<svg></svg>', 'text/html').querySelector('svg').namespaceURI;
const drawn = `<svg xmlns="${svg}" viewBox="0 0 60 40"><path d="M4 30c6-18 20-24 34-22s16 10 18 16l-8 6-30 4z" fill="none" stroke="#2b2b28"/><path d="M6 36h20" stroke="#2b2b28"/></svg>`;
const plates = [{ svg: drawn, alt: 'Drawing of a skull with a wide gap behind its incisors' }, { svg: drawn, alt: 'Drawing of a skull with large canines' }];

const questions = [
  {
    id: 'q-1', subject: 'skull', difficulty: 3, prompt: 'Whose skull is this?', typed: false, key: 1, plate: 0, photo: 'Own photo, school collection',
    options: ['Coyote', 'American beaver', 'Northern raccoon', 'Bobcat'], reason: 'It is the American beaver’s: its skull has a wide diastema and orange incisors.',
  },
  {
    id: 'q-2', subject: 'skull', difficulty: 2, prompt: 'Which of these skulls has large, pointed canines?', typed: false, key: 2, plates: [0, 0, 1, 0],
    options: ['Plate A', 'Plate B', 'Plate C', 'Plate D'], reason: 'Plate C is the bobcat’s: its skull has large, pointed canines.',
  },
  {
    id: 'q-3', subject: 'skull', difficulty: 4, prompt: 'Name this animal. Its skull has orange incisors and is 120 to 150 mm long.', typed: true, key: 0,
    options: ['American beaver'], reason: 'Of all the animals in play, only the American beaver fits every clue.', told: { round: 1, question: 1 },
  },
  {
    id: 'q-4', subject: 'track', difficulty: 1, prompt: 'Which animal’s front print shows 5 toes?', typed: false, key: 0,
    options: ['Northern raccoon', 'Coyote', 'White-tailed deer'], reason: 'The northern raccoon’s front print shows 5 toes.',
  },
];

// As at two stations, of which the second has a single question and a replica.
const atStations = [{ ...questions[0], station: 1 }, { ...questions[3], station: 1 }, { ...questions[3], id: 'q-5', station: 2 }];

const games = [
  { code: 'otter-burrow-42', ended: false, written: '2026-05-09' },
  { code: 'alder-run-27', ended: true, written: '2026-05-02' },
  { code: 'marsh-track-83', ended: true, written: '' },
];

const look = (props) => ({ page: 'host', view: 'PlannedScreen', props });

// planSamples are of a stored plan with one round or more.
export const planSamples = (plan) => ({
  'plan-questions-hidden': look({ plan, changed: false }),
  'plan-questions-unsaved': look({ plan, changed: true }),
  'plan-questions': look({ plan, changed: false, open: true, list: { questions, plates } }),
  'plan-questions-stations': look({ plan: { ...plan, rounds: [{ ...plan.rounds[0], kind: 'station', station: { stations: 2, walk: 30, replicas: [] } }, plan.rounds[1]] }, changed: false, open: true, list: { questions: atStations, plates } }),
  'plan-questions-refused': look({ plan, changed: false, open: true, list: { message: 'No game has that join code. It is two words and two digits, as on the board.' } }),
  'host-sets': { page: 'host', view: 'SetsScreen', props: { title: plan.title } },
  'host-keeping': { page: 'host', view: 'KeptScreen', props: { games } },
  'host-keeping-none': { page: 'host', view: 'KeptScreen', props: { games: [] } },
});
