// Team names to suggest: a place or season of the trade, and an animal.
const places = ['Marsh', 'Alder', 'Creek', 'Thicket', 'Winter', 'Ridge', 'Meadow', 'Pond', 'Birch', 'Moss', 'Fern', 'Canyon'];
const animals = ['Wrens', 'Voles', 'Otters', 'Martens', 'Badgers', 'Shrews', 'Herons', 'Hares', 'Lynxes', 'Beavers', 'Weasels', 'Owls'];

function pick(list) {
  return list[crypto.getRandomValues(new Uint32Array(1))[0] % list.length];
}

export function suggestName() {
  return `${pick(places)} ${pick(animals)}`;
}
