// The words of the page that all begin at, in English.

export const landing = {
  lead: 'Timed review rounds on the skulls, tracks and scat of wild animals.',
  host: 'Host a game',
  hostHint: 'Plan the rounds and run them. Needs the host key.',
  tournament: 'Tournament',
  tournamentHint: 'Several matches, each a short game of two teams. The hub keeps the table or the bracket.',
  season: 'Season plan',
  seasonHint: 'What each meeting of a club shows until its contest. Needs the host key.',
  board: 'Show the board',
  boardHint: 'The shared screen, for a projector.',
  foodweb: 'Who eats whom',
  foodwebHint: 'The food web of a roster, drawn for a projector.',
  practice: 'Practise alone',
  practiceHint: 'Flash questions, spaced by how well you remember. No game, no name, no account.',
  caution: 'Practise with replicas and casts; wash hands; do not collect wildlife parts without the permits your local authority asks for.',
};
