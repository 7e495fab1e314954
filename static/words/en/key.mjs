// The words that ask for the host key, in English.

export const hostKey = {
  title: 'Host console',
  keyLabel: 'Host key',
  keyHint: 'The hub printed it when it started. It stays in this tab only.',
  useKey: 'Use this key',
  emptyKey: 'Enter the host key.',
  wrongKey: 'The hub does not know this key. A hub that was started again has a new one: go on in the page that it opened, or at the address that it shows in its window.',
};
