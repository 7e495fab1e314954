// The words of a team’s phone, in English.

import { count, teams } from './basics.mjs';

const languages = new Intl.DisplayNames('en', { type: 'language' });
const points = (n) => count(n, 'point', 'points');

export const team = {
  chooseName: 'Name your team',
  nameLabel: 'Team name',
  nameHint: 'A nickname of up to 24 letters. No real names, please.',
  another: 'Another name',
  join: 'Join',
  emptyName: 'Enter a name for the team.',
  joined: (name) => `${name} is on the list.`,
  wait: 'The host starts the game when all teams are here.',
  readyMore: 'Look at the board; the first question comes in a moment.',
  asksIn: (tag) => `The questions of this game are in ${languages.of(tag)}, for all teams alike.`,
  here: (n) => `${teams(n)} here so far.`,
  typePrompt: 'Type your answer. What you send first stands.',
  typeLabel: 'The animal',
  typeHint: 'Its usual or scientific name. A small slip in the spelling is forgiven.',
  send: 'Send',
  typed: (name) => `Your answer: ${name}`,
  pick: 'Tap your answer. Your first tap stands.',
  paused: 'The clock is stopped. Wait for the host.',
  awaitReveal: 'Wait for the reveal.',
  sending: 'Sending…',
  sent: 'Answer sent',
  sentMore: (n, of) => `${n} of ${teams(of)} have answered.`,
  yours: 'your answer',
  buzz: 'Buzz',
  buzzHint: 'Buzz first, then answer.',
  buzzing: 'Buzz sent…',
  youHold: 'You have it: tap your answer',
  youHoldTyped: 'You have it: type your answer',
  holds: (name) => `${name} has it`,
  holdsMore: 'If they are wrong, the question is open again for the others.',
  lockedMore: (holder) => `Locked out for this question. ${holder ? `${holder} has the buzz` : 'Others may still buzz'}.`,
  verdicts: { right: 'Right', wrong: 'Not right', late: 'Your time ran out', none: 'No answer from your team' },
  gained: (n, fast) => (n < 0 ? `${points(-n)} taken` : `${points(n)} gained${fast > 0 ? `: ${n - fast}, and ${fast} for speed` : ''}`),
  standing: (rank, score) => `Rank ${rank}, ${points(score)}`,
  afterRound: 'The round is over',
  over: 'The game is over',
  firstFive: 'First five',
  goOver: 'Go over what you missed',
  practise: 'Practise alone',
  removedTitle: 'Removed by the host',
  removed: 'The host has taken this team out of the game. Ask the host, or join again under another name.',
  joinAgain: 'Join again',
  replacedTitle: 'Another device has taken over',
  replaced: 'Your team is playing on another device.',
  useThis: 'Play on this device',
  takenNow: 'Another phone has just taken that seat.',
  side: 'Which side are you?',
  sideHint: 'Each side plays with one phone.',
  taken: 'taken',
  takenHint: 'Is your side taken, and not by a phone of yours? Ask the host to free its seat, then press Look again. Don’t take the other side’s seat.',
  lookAgain: 'Look again',
  freedTitle: 'The host has freed this seat',
  freed: 'This phone no longer plays in the match, and what it scored is gone. Does it belong to a side? Then join again as that side.',
};

// Team names to suggest: a place or season of the trade, and an animal.
export const nicknames = {
  places: ['Marsh', 'Alder', 'Creek', 'Thicket', 'Winter', 'Ridge', 'Meadow', 'Pond', 'Birch', 'Moss', 'Fern', 'Canyon'],
  animals: ['Wrens', 'Voles', 'Otters', 'Martens', 'Badgers', 'Shrews', 'Herons', 'Hares', 'Lynxes', 'Beavers', 'Weasels', 'Owls'],
  name: (place, animal) => `${place} ${animal}`,
};
