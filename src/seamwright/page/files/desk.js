// The design on the table: its text, its history, and that every change is kept. One change at a time, in order.
//
// Knows:  the text and the view of it, undo and redo, what is not saved yet, what the file holds now.
// Leaves: what edits do (the server), what is kept in the browser (keeping.js), words and buttons (states.js).
// Events: "open" (another design), "change" (its text is another), "state" (how it stands with saving), "word" (a
//         sentence for a moment, in `detail`).
// States: "none" (no design), "new" (not written yet), "saving", "saved", "offline" (no server), "unkept" (the server
//         cannot write it: `why`), "conflict" (the file holds something else: `there`).
// Method: a text goes to the server together with the hash of what it was made from, and stays in `#steps`, and in
//         the browser's own store, until the server has it. History holds texts, or hashes of versions on the server.

import { ask, unheard } from "./ask.js";
import { Keeping } from "./keeping.js";

const AGAIN_MS = 2000; // between two looks for changes elsewhere, and two tries to save
const MOST_STEPS = 50; // sent with one saving: the server keeps no more
const MOST_SIGNS = 6_000_000; // sent with one saving: the server takes 30 MB, and a sign may be four bytes
const MADE_UP = /^new (block|quilt)( \d+)?$/;

const at = (name, ...rest) => ["designs", name, ...rest].map(encodeURIComponent).join("/");
const stemOf = (name) => name.replace(/\.\w+$/, "");
const endingOf = (name) => /\.\w+$/.exec(name)?.[0] ?? ".seams";
const kindOf = (name) => ({ ".setting": "quilt", ".palette": "palette" })[endingOf(name)] ?? "block";

// The last steps that can be sent and kept at once, one at least.
function lastOf(steps) {
  let signs = 0;
  const few = steps.slice(-MOST_STEPS);
  const from = few.findLastIndex(({ text }) => (signs += text.length) > MOST_SIGNS);
  return few.slice(Math.min(from + 1, few.length - 1));
}

export class Desk extends EventTarget {
  name = ""; kind = ""; text = ""; view = null; hash = "";
  state = "none"; why = ""; problem = null; there = null; remembered = true;
  #past = []; #ahead = []; #steps = [];
  #once = ""; // what tells a design that was never written from all others; "" once it is written
  #queue = Promise.resolve(); #saving = null;
  #keeping = new Keeping();

  get canUndo() { return this.#past.length > 0; }
  get canRedo() { return this.#ahead.length > 0; }
  get unsaved() { return this.#steps.length > 0; }
  get fresh() { return this.#once !== ""; }
  get #edits() { return this.kind === "quilt" ? "quilt/edit" : "sketch"; } // who does edits of such a text

  // Learns which folder this is, and begins to look for changes elsewhere. Returns what waits to be saved.
  async start() {
    this.#keeping.folder = (await ask("GET", "folder")).id;
    setInterval(() => { if (this.unsaved || document.visibilityState === "visible") this.look(); }, AGAIN_MS);
    document.addEventListener("visibilitychange", () => this.look());
    addEventListener("online", () => this.look());
    addEventListener("storage", (event) => { if (event.key === "seamwright pass") this.look(); }); // started anew
    return this.#keeping.waiting();
  }

  // Opens a design of the folder, with what of it was not saved when a page was closed.
  open(name) { return this.#inTurn(async () => {
    await this.#settled();
    const found = await ask("GET", at(name));
    const chain = (hashes) => hashes.map((hash) => ({ hash }));
    this.#sit({ name, kind: found.kind, text: found.text, hash: found.hash, past: chain(found.past), ahead: chain(found.ahead) });
    const [kept] = (await this.#keeping.waiting()).filter((entry) => entry.name === name && !entry.fresh);
    if (kept) this.#takeUp(kept, found);
    await this.#shown();
  }); }

  // Lays a new text on the table; it is written once it is changed.
  begin(text, name = "new block.seams") { return this.#inTurn(async () => {
    await this.#settled();
    this.#sit({ name, kind: kindOf(name), text, once: crypto.randomUUID() });
    await this.#shown();
  }); }

  // What was begun and never written, from a page that was closed.
  resume(entry) { return this.#inTurn(async () => {
    this.#sit({ name: entry.name, kind: entry.kind, text: entry.steps.at(-1).text, once: entry.once ?? crypto.randomUUID() });
    this.#steps = entry.steps;
    this.#past = entry.steps.slice(0, -1).map(({ text }) => ({ text }));
    this.#keeping.forget(entry);
    this.#remember();
    await this.#shown();
  }); }

  // Writes what was begun, for whoever needs its file.
  write() { return this.#inTurn(async () => {
    if (!this.fresh) return;
    if (!this.unsaved) this.#steps.push({ text: this.text, way: "change" });
    await this.save();
    if (this.fresh) throw unheard(this.why);
  }); }

  // Makes a new design of a text, under that name or another that is free, and opens it.
  async create(name, text, of = "") {
    const made = await ask("POST", "designs", { words: stemOf(name), ending: endingOf(name), text, of });
    await this.open(made.name);
    return made.name;
  }

  // Does edits (sketch/edits.py); rejects with a sentence if they cannot be done, and then nothing has changed.
  // A function says when its turn comes what is to be done. False if there was nothing to do.
  change(edits) { return this.#inTurn(async () => {
    const asked = typeof edits === "function" ? await edits() : edits;
    if (!asked.length) return false;
    const made = await this.#asked(asked);
    if (made.text !== this.text) await this.#become(made.text, made.view);
    return true;
  }); }

  // Another text in place of this one: a mend, a version of before.
  replace(text) { return this.#inTurn(async () => { if (text !== this.text) await this.#become(text); }); }

  undo() { return this.#step(this.#past, this.#ahead, "undo"); }
  redo() { return this.#step(this.#ahead, this.#past, "redo"); }

  // Saves what is not saved yet. Never rejects: how it went is the state.
  save() {
    this.#saving ??= this.#sent().finally(() => { this.#saving = null; });
    return this.#saving;
  }

  // Saves what is not saved yet; else looks whether the file was changed elsewhere.
  async look() {
    if (!this.name || this.#saving || this.state === "conflict") return;
    if (this.unsaved) { this.save(); return; }
    if (this.fresh) return;
    const { name, hash } = this;
    let now;
    try { now = (await ask("GET", at(name, "hash"))).hash; } catch (refusal) { this.#failed(refusal); return; }
    if (this.state === "offline" || this.state === "unkept") { this.why = ""; this.#is("saved"); }
    if (now === hash) return;
    await this.#inTurn(async () => {
      if (this.name !== name || this.hash !== hash || this.unsaved || this.state === "conflict") return;
      if (now) await this.#takeIn(await ask("GET", at(name)));
      else { this.there = { text: "", hash: "" }; this.#is("conflict"); }
    }).catch((refusal) => this.#failed(refusal));
  }

  // Of two texts of one design: hers becomes a copy and is opened.
  keepMine() { return this.#inTurn(async () => {
    const made = await ask("POST", "designs", { words: stemOf(this.name), ending: endingOf(this.name), text: this.text, of: this.name });
    this.#keeping.drop(this.name);
    for (const one of [...this.#past, ...this.#ahead]) one.of ??= this.name; // versions that the copy does not have
    Object.assign(this, { name: made.name, hash: made.hash, there: null });
    this.#steps = [];
    this.#is("saved");
    this.#tell("open"); this.#tell("change");
  }); }

  // Of two texts of one design: what the file holds takes the place of hers; undo brings hers back.
  takeTheirs() { return this.#inTurn(async () => {
    await ask("POST", at(this.name, "versions"), { text: this.text });
    this.#keeping.drop(this.name);
    this.#steps = [];
    await this.#takeIn(await ask("GET", at(this.name)));
  }); }

  // The file is gone: hers is written anew.
  writeAgain() { return this.#inTurn(async () => {
    Object.assign(this, { hash: "", there: null, state: "saving" });
    this.#note({ text: this.text, way: "change" });
  }); }

  rename(stem) { return this.#inTurn(async () => {
    const to = stem + endingOf(this.name);
    await this.save();
    const answer = await ask("POST", at(this.name, "rename"), { to });
    this.#called(answer.name);
    this.#tell("change");
    return answer;
  }); }

  // -- within ------------------------------------------------------------------------------------------------

  #sit({ name, kind, text, hash = "", past = [], ahead = [], once = "" }) {
    Object.assign(this, { name, kind, text, hash, view: null, there: null, why: "", state: once ? "new" : "saved" });
    this.#past = past; this.#ahead = ahead; this.#steps = []; this.#once = once;
  }

  async #shown() {
    Object.assign(this, await this.#viewOf(this.text));
    this.#tell("open"); this.#tell("change"); this.#tell("state");
    if (this.unsaved) this.save();
  }

  // What was kept in the browser, after the server has said what the file holds.
  #takeUp(kept, found) {
    this.#keeping.forget(kept);
    const last = kept.steps.at(-1).text;
    if (last === found.text) return;
    // The file holds a step of hers: it was written, and the answer never came.
    const written = kept.steps.findLastIndex(({ text }) => text === found.text);
    if (written >= 0) kept = { ...kept, base: found.hash, steps: kept.steps.slice(written + 1) };
    if (kept.base === found.hash) this.#past.push({ hash: found.hash, text: found.text });
    else this.there = { text: found.text, hash: found.hash };
    Object.assign(this, { text: last, hash: kept.base, state: this.there ? "conflict" : "saving" });
    this.#past.push(...kept.steps.slice(0, -1).map(({ text }) => ({ text })));
    this.#ahead = [];
    this.#steps = kept.steps;
    this.#remember();
  }

  #step(from, to, way) { return this.#inTurn(async () => {
    if (!from.length) return;
    const next = from.at(-1);
    next.text ??= (await ask("GET", at(next.of ?? this.name, "versions", next.hash))).text;
    const seen = next.view ? { view: next.view, problem: null } : await this.#viewOf(next.text);
    from.pop();
    to.push({ text: this.text, view: this.view });
    Object.assign(this, { text: next.text, ...seen });
    this.#tell("change");
    this.#note({ text: this.text, way });
  }); }

  async #become(text, view) {
    const seen = view ? { view, problem: null } : await this.#viewOf(text); // where it fails nothing has changed
    this.#past.push({ text: this.text, view: this.view });
    this.#ahead = [];
    Object.assign(this, { text, ...seen });
    this.#tell("change");
    this.#note({ text, way: "change" });
  }

  // Another's text is taken in; hers is one undo away.
  async #takeIn(found) {
    const seen = await this.#viewOf(found.text);
    this.#past.push({ text: this.text, view: this.view });
    this.#ahead = [];
    Object.assign(this, { text: found.text, hash: found.hash, there: null, ...seen });
    this.#is("saved");
    this.#tell("change");
    this.#say(`${this.name} was changed elsewhere, and this is how it is now. Undo brings back what was here.`);
  }

  #asked(edits, text = this.text) {
    const name = this.kind === "quilt" ? this.name : stemOf(this.name);
    return ask("POST", this.#edits, { text, name, edits }).catch((refusal) => {
      if (refusal.status === 0 || refusal.status === 403) this.#failed(refusal);
      throw refusal;
    });
  }

  // What the page shows of a text; null for a palette, and where it cannot be read: then `problem` says why.
  async #viewOf(text) {
    if (this.kind === "palette") return { view: null, problem: null };
    try {
      return { view: (await this.#asked([], text)).view, problem: null };
    } catch (problem) {
      if (problem.status !== 422) throw problem;
      return { view: null, problem };
    }
  }

  #note(step) {
    // What it was begun with is its first version.
    if (this.fresh && !this.unsaved) this.#steps.push({ text: this.#past[0]?.text ?? step.text, way: "change" });
    this.#steps.push(step);
    this.#remember();
    if (this.state !== "conflict") this.save();
  }

  // What is not saved yet goes into the browser's own store.
  #remember() {
    const { name, kind, hash } = this;
    this.remembered = this.#keeping.keep({ name, kind, base: hash, steps: lastOf(this.#steps), fresh: this.fresh, once: this.#once });
  }

  async #sent() {
    if (!this.unsaved) return;
    while (this.#steps.length && this.state !== "conflict") {
      const steps = this.#steps.slice(0, this.fresh ? 1 : undefined);
      const { text, way } = steps.at(-1);
      if (this.state !== "offline" && this.state !== "unkept") this.#is("saving");
      try {
        const kept = this.#once || this.name;
        const made = this.fresh
          ? await ask("POST", "designs", { words: this.#title(), ending: endingOf(this.name), text, once: this.#once })
          : await ask("PUT", at(this.name), { text, way, base: this.hash, before: lastOf(steps.slice(0, -1)) });
        this.#steps.splice(0, steps.length);
        const another = this.fresh || made.name !== this.name;
        Object.assign(this, { name: made.name, hash: made.hash, why: made.warning });
        this.#once = "";
        this.#keeping.drop(kept);
        if (this.#steps.length) this.#remember();
        if (another) this.#tell("open"); // the address may name it now
      } catch (refusal) {
        this.#failed(refusal);
        return;
      }
    }
    if (this.state === "conflict") return;
    this.#is("saved");
    await this.#follow();
  }

  // A file with a name of our making takes the name that she gives to the block.
  async #follow() {
    const title = this.#title();
    if (this.fresh || !MADE_UP.test(stemOf(this.name)) || MADE_UP.test(title)) return;
    try {
      const to = (await ask("GET", `free?${new URLSearchParams({ words: title, ending: endingOf(this.name) })}`)).name;
      this.#called((await ask("POST", at(this.name, "rename"), { to })).name);
    } catch (refusal) {
      this.#failed(refusal);
    }
  }

  // It has another name now; what was drawn meanwhile is kept under it, and under the old one no more.
  #called(name) {
    this.#keeping.drop(this.name);
    this.name = name;
    if (this.unsaved) this.#remember();
    this.#tell("open");
  }

  #title() { return this.view?.name || stemOf(this.name); }

  #failed(refusal) {
    if (refusal.status === 409) {
      this.there = { text: refusal.data.text, hash: refusal.data.hash };
      this.#is("conflict");
      return;
    }
    this.why = refusal.status === 0 ? "" : refusal.message;
    this.#is(refusal.status === 0 || refusal.status === 403 ? "offline" : "unkept");
  }

  // Whatever can be saved now is; the rest stays in the browser under this design's name.
  async #settled() { if (this.unsaved) await this.save(); }

  #is(state) {
    if (state === "saved" && this.unsaved) return;
    this.state = state;
    this.#tell("state");
  }
  #say(sentence) { this.dispatchEvent(new CustomEvent("word", { detail: sentence })); }
  #tell(what) { this.dispatchEvent(new Event(what)); }
  #inTurn(work) {
    const done = this.#queue.then(work);
    this.#queue = done.catch(() => {});
    return done.then((made) => made); // a refusal that no caller answers is still heard (start.js)
  }
}
