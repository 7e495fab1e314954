// Storage that falls back to memory where the browser denies it (private
// windows, blocked site data): the page works on, only a reload forgets.

function keep(area) {
  const memory = new Map();
  return {
    get(key) {
      try { return window[area].getItem(key) ?? memory.get(key) ?? null; } catch { return memory.get(key) ?? null; }
    },
    set(key, value) {
      memory.set(key, value);
      try { window[area].setItem(key, value); } catch { /* kept in memory */ }
    },
    drop(key) {
      memory.delete(key);
      try { window[area].removeItem(key); } catch { /* was in memory only */ }
    },
  };
}

export const lasting = keep('localStorage');
export const thisTab = keep('sessionStorage');
