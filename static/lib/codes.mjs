// Join codes as they are typed, and the names of commands and phones.

// newID works on plain HTTP, where crypto.randomUUID does not exist.
export function newID() {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (b) => b.toString(16).padStart(2, '0')).join('');
}

// cleanCode takes a join code as people type it.
export function cleanCode(typed) {
  return typed.toLowerCase().split(/[\s-]+/).filter(Boolean).join('-');
}
