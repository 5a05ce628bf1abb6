// Print: options of the sheets, how the sheets look, and the files.
//
// Knows:  what stands where, which files there are, what is told of them.
// Leaves: when sheets are asked for (answer.js), options (fields.js), pictures (sheets.js), downloads (download.js).

import { Answer } from "./answer.js";
import { ask } from "./ask.js";
import { button, make } from "./dom.js";
import { maker } from "./download.js";
import { choices, fieldsOf } from "./fields.js";
import { Sheets } from "./sheets.js";
import { Ways } from "./ways.js";

export const KEYS = [
  ["← →", "the sheet before, the next one, while one is large"],
  ["Escape", "back to the drawing"],
];

const FEW = 3; // notes in sight
const FILES = [
  ["pdf", "Foundations (PDF)"],
  ["cutter", "For a cutter (SVG, DXF)"],
  ["booklet", "Class booklet (PDF)"],
  ["picture", "Picture of the plan (PNG)"],
];

export function mount(app, inside) { new Print(app, inside); }

class Print {
  #fields = [];

  constructor(app, inside) {
    this.app = app;
    this.options = make("div", { class: "print-options" });
    this.book = make("details", {}, make("summary", {}, "What the booklet says"));
    this.sheets = new Sheets(document.getElementById("sheet"));
    this.more = button("", () => this.#showMore(), { hidden: true });
    this.next = make("p", { class: "next" });
    this.facts = make("div", { class: "facts" });
    this.made = maker();
    this.files = FILES.map(([kind, words]) => button(words, (event) => this.#make(event.currentTarget, kind)));
    this.files[0].classList.add("first");
    this.ways = new Ways(app, "all, sheets of each", () => this.answer.look());
    this.answer = new Answer(app, {
      work: "print", path: "print/pages", what: "sheets", buttons: this.files,
      asked: () => this.#asked(),
      show: (found) => this.#show(found),
      forget: () => this.#forget(),
      age: (isOld) => {
        this.sheets.age(isOld);
        if (isOld) this.files[0].replaceChildren(FILES[0][1]); // how many sheets there are now nobody knows yet
        if (!this.answer?.isFresh) this.made.clear();
      },
    });
    inside.append(
      this.answer.reason, this.options,
      make("div", { class: "sheets" }, this.answer.state, this.sheets.row, this.more, this.next),
      make("div", { class: "files go" }, this.files[0]), make("div", { class: "files" }, ...this.files.slice(1)), this.made.element, this.book, this.facts,
    );
    app.desk.addEventListener("open", () => { this.ways.reset(); this.sheets.close(); });
    app.desk.addEventListener("change", () => this.#showOptions());
    app.events.addEventListener("work", () => {
      if (app.work === "print") this.#offer().catch((refusal) => app.say(refusal.message)); else this.sheets.close();
    });
    this.#offer().catch(() => {}); // asked for again when the part is opened
    this.answer.look();
  }

  #asked() { return { name: this.app.desk.name, text: this.app.desk.text, options: this.ways.options }; }

  async #offer() {
    const all = await choices();
    if (this.#fields.length) return;
    const fields = (list, narrow) => {
      this.#fields.push(fieldsOf(this.app, list, narrow));
      return this.#fields.at(-1).element;
    };
    const mine = all.filter((one) => one.where === "print");
    const groups = [...new Set(mine.map((one) => one.group))].filter(Boolean);
    this.options.append(
      fields(mine.filter((one) => !one.group), true), this.ways.element,
      make("details", { class: "more" }, make("summary", {}, "More choices"),
        ...groups.map((words) => make("fieldset", {}, make("legend", {}, words), fields(mine.filter((one) => one.group === words)))),
        make("p", { class: "quiet" }, "Which seams are sewn on paper, and in what order: "),
        button("How it is sewn, in Check", () => this.app.open("check"))),
    );
    this.book.append(fields(all.filter((one) => one.where === "book")));
    this.#showOptions();
  }

  #showOptions() {
    for (const fields of this.#fields) fields.show(this.app.desk.view?.options ?? {});
    this.ways.show();
  }

  #show(found) {
    if (found !== this.found) this.sheets.show(found.captions, found.pictures);
    this.found = found;
    this.answer.state.textContent = found.made;
    this.next.textContent = found.next;
    this.#offerMore();
    const count = make("span", { class: "count" }, found.sheets === 1 ? "1 sheet" : `${found.sheets} sheets`);
    this.files[0].replaceChildren(FILES[0][1], count);
    const [near, far] = [found.notes.slice(0, FEW), found.notes.slice(FEW)];
    const list = (lines) => make("ul", {}, ...lines.map((line) => make("li", {}, line)));
    this.facts.replaceChildren(
      ...[found.alike, ...found.blocks, ...found.stock].filter(Boolean).map((line) => make("p", {}, line)),
      near.length ? list(near) : "",
      far.length ? make("details", {}, make("summary", {}, `${far.length} more to know`), list(far)) : "",
      make("p", { class: "quiet" }, found.true),
    );
  }

  #forget() {
    this.found = null;
    this.sheets.show([], []);
    this.more.hidden = true;
    this.next.replaceChildren();
    this.facts.replaceChildren();
    this.files[0].replaceChildren(FILES[0][1]);
  }

  #offerMore() {
    const left = this.found.shown - this.sheets.count;
    this.more.hidden = left <= 0;
    this.more.textContent = left === 1 ? "Show one more sheet" : `Show more sheets, ${left} are left`;
  }

  async #showMore() {
    const { found } = this;
    this.more.disabled = true;
    try {
      const answer = await ask("POST", "print/pages", { ...this.#asked(), first: this.sheets.count + 1 });
      if (found === this.found && this.answer.isFresh) {
        this.sheets.add(answer.captions, answer.pictures);
        this.#offerMore();
      }
    } catch (refusal) {
      this.app.say(refusal.message);
    }
    this.more.disabled = false;
  }

  #make(pressed, kind) { return this.made.run(pressed, "print/file", { ...this.#asked(), kind }); }
}
