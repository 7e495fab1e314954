// Canned states of station rounds.

const teams = ['Marsh Wrens', 'Alder Voles', 'Creek Otters', 'Pond Herons', 'Winter Hares', 'Ridge Martens', 'Meadow Owls', 'Moss Shrews', 'Fern Weasels', 'Birch Beavers'];
const animals = ['American beaver', 'red fox', 'river otter', 'raccoon', 'bobcat', 'muskrat', 'coyote', 'striped skunk', 'American marten', 'fisher'];
const subjects = ['skull', 'track', 'scat'];

const statements = ['Its skull has orange incisors.', 'Its skull has large, pointed canines.', 'Its skull has a wide diastema.', 'Its skull has a domed profile.'];

function asked(n) {
  const texts = [
    { prompt: 'Whose skull is this?', options: animals.slice(0, 4) },
    { prompt: 'How many teeth does this animal have in all?', options: ['16', '20', '36', '42'] },
    { prompt: 'Which of these is not true of this animal?', options: statements },
  ];
  return { id: `q-${n}`, n, subject: 'skull', typed: false, plates: [], ...texts[(n - 1) % 3] };
}

function specimens(count, plate) {
  return Array.from({ length: count }, (_, i) => ({
    station: i + 1, animal: animals[i % animals.length], subject: subjects[i % 3], replica: i === 2, plate: i === 2 ? '' : plate, plateAlt: 'Drawing of a skull', credit: '',
    questions: [1, 2, 3].map((k) => ({ ...asked(3 * i + k), key: i === 3 && k === 2 ? -1 : k % 4, picks: [2, 1, 0, 3], reason: 'The American beaver’s skull has 20 teeth in all; by comparison, the muskrat’s skull has 16 teeth in all.' })),
  }));
}

function places(count, named) {
  return Array.from({ length: count }, (_, i) => ({ station: i + 1, teams: named.filter((_, t) => t % count === i).slice(0, 4), more: i === 0 && named.length > 12 ? 2 : 0 }));
}

// stationSamples builds on the base states and frames of samples.mjs.
export function stationSamples({ base, hosted, phone, projector, desk, you, plan, plate }) {
  const bench = { n: 1, of: 2, name: 'Bench', kind: 'station', questions: 24 };
  const rotation = (turn, count, named = teams) => ({ turn, of: count, places: places(count, named) });
  const at = (fields, count = 8, named = teams) => ({ ...base, phase: 'station', round: bench, left: 84_000, span: 120_000, teams: named.length, rotation: rotation(2, count, named), ...fields });
  const start = at({ phase: 'walk', left: 0, span: 30_000, rotation: rotation(0, 8) });
  const visit = at({});
  const walk = at({ phase: 'walk', left: 21_000, span: 30_000 });
  const told = (count) => ({ ...rotation(count, count), places: undefined, told: specimens(count, plate) });
  const marked = at({ phase: 'marked', left: 0, rotation: told(8) });
  const own = (fields) => ({ ...you, station: { turn: 2, station: 4, replica: false, plate, plateAlt: 'Drawing of a skull', questions: [], options: [], sheet: [], ...fields } });
  const sheet = { questions: [asked(10), asked(11), asked(12)], options: [2, -1, 0] };
  const crowd = Array.from({ length: 32 }, (_, i) => `${teams[i % teams.length].split(' ')[0]} Salamanders ${i + 1}`);
  const console = (state) => {
    const h = hosted(state, { stations: specimens(8, plate) });
    h.host.teams = h.host.teams.map((t, i) => ({ ...t, station: i + 1, filled: i % 4 }));
    return desk(h);
  };
  const planned = { ...plan, rounds: [{ ...plan.rounds[0], name: 'Bench', kind: 'station', count: 3, seconds: 120, speed: 0, station: { stations: 8, walk: 30, replicas: [{ station: 3, animal: 'American beaver', subject: 'skull' }] } }] };
  return {
    'team-station-start': phone(start, own({ turn: 0, plate: '' })),
    'team-station': phone(visit, own(sheet)),
    'team-station-replica': phone(visit, own({ ...sheet, replica: true, plate: '' })),
    'team-station-paused': phone({ ...visit, paused: true, notice: '' }, own(sheet)),
    'team-station-walk': phone(walk, own({ station: 5, plate: '' })),
    'team-station-marked': phone(marked, own({ turn: 8, sheet: Array.from({ length: 24 }, (_, i) => (i % 5) - 1) })),
    'board-station-start': projector(start),
    'board-station': projector(visit),
    'board-station-walk': projector(walk),
    'board-station-20': projector(at({}, 20, crowd)),
    'board-station-marked': projector(marked),
    'board-station-marked-20': projector(at({ phase: 'marked', left: 0, rotation: told(20) }, 20)),
    'host-station-plan': desk(hosted({ ...base, phase: 'lobby', round: null, leaders: [] }, { plan: planned })),
    'host-station-start': console(start),
    'host-station': console(visit),
    'host-station-walk': console(walk),
    'host-station-marked': console(marked),
  };
}
