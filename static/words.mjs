// The words that the pages show.

export * from './words/en.mjs';
