// The words of all pages of a tournament, in English.

export const tournament = {
  title: 'Tournament',
  unknown: 'This hub has no tournament of that code. Check the address with the host.',
  noCode: 'This address names no tournament. The host’s page has the link.',
  lost: 'Connection lost. What is shown may be old. Coming back by itself…',
  short: { forfeit: 'forfeit', walkover: 'w. o.', bye: 'bye', unneeded: '' },
};
