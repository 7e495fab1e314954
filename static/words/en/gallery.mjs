// The words of the gallery of screens, in English.

export const gallery = {
  title: 'gallery of screens',
  lead: 'Every screen in every state, drawn from canned states. Nothing here is sent anywhere.',
};
