// What the server does not have yet, kept in this browser, so that closing the page loses nothing.
//
// Knows:  entries by folder, page and design; which pages of this browser are closed.
// Leaves: when to keep and when to save (desk.js).
// Method: every opening of the page has a name of its own and holds a lock of that name as long as it lives. What a
//         page whose lock is free has left behind may be taken up by another.

const HEAD = "seamwright kept";

export class Keeping {
  folder = "";
  #me = crypto.randomUUID();

  constructor() {
    navigator.locks?.request(lockOf(this.#me), () => new Promise(() => {})); // held until the page is gone
  }

  // Keeps an entry: {name, kind, base, steps, fresh, once}, in a slot of its own: `once` of what was never written, whose
  // name another may have too, else its name. Returns whether the browser took it.
  keep(entry) {
    const { steps } = entry;
    for (const few of [steps, steps.slice(-5), steps.slice(-1)]) { // where room is short, the last at least
      try {
        localStorage.setItem(this.#key(entry.once || entry.name), JSON.stringify({ ...entry, steps: few, at: Date.now() }));
        return true;
      } catch { /* its room is used up, or it keeps nothing at all */ }
    }
    return false;
  }

  drop(slot) { localStorage.removeItem(this.#key(slot)); }

  // Entries of this page and of pages that are closed, the latest first: {key, name, kind, base, steps, fresh, once, at}.
  async waiting() {
    const held = new Set(((await navigator.locks?.query())?.held ?? []).map((lock) => lock.name));
    held.delete(lockOf(this.#me));
    const found = [];
    for (const key of Object.keys(localStorage)) {
      const [head, folder, tab] = key.split("|");
      if (head !== HEAD || folder !== this.folder || held.has(lockOf(tab))) continue;
      const entry = read(key);
      if (entry?.steps?.length) found.push({ key, ...entry });
    }
    return found.sort((a, b) => b.at - a.at);
  }

  forget(entry) { localStorage.removeItem(entry.key); }

  #key(slot) { return [HEAD, this.folder, this.#me, slot].join("|"); }
}

const lockOf = (tab) => `seamwright page ${tab}`;

function read(key) {
  try { return JSON.parse(localStorage.getItem(key)); } catch { return null; }
}
