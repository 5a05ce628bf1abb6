// Sheets as pictures: small ones in a row, one of them large on the stage.
//
// Knows:  how pictures are shown, turned over and enlarged.
// Leaves: making them (the server), when they are asked for (print.js).

import { button, make, pictured } from "./dom.js";

export class Sheets {
  #shown = []; // {caption, url}
  #at = 0; #old = false;

  // `holder` is where the drawing lies on the stage; a large sheet covers it, and the tools are away meanwhile.
  constructor(holder) {
    this.stage = holder.parentElement;
    this.row = make("div", { class: "sheet-row", role: "group", "aria-label": "Sheets, press one to see it large" });
    this.picture = make("img", { alt: "" });
    this.caption = make("p", { class: "caption", role: "status" });
    this.back = button("Back to the drawing", () => this.close(), { class: "first" });
    this.before = button("Sheet before", () => this.open(this.#at - 1));
    this.after = button("Next sheet", () => this.open(this.#at + 1));
    this.size = button("Closer", () => this.#closer(!this.large.classList.contains("closer")), { "aria-pressed": "false" });
    this.paper = make("div", { class: "paper", tabindex: "0", role: "group", "aria-label": "The sheet, large" }, this.picture);
    this.large = make("section", { class: "sheet-large", "aria-label": "Sheet to look at", hidden: true },
      make("div", { class: "row" }, this.back, this.before, this.after, this.size), this.caption, this.paper);
    this.large.addEventListener("keydown", (event) => this.#key(event));
    holder.append(this.large);
  }

  get count() { return this.#shown.length; }

  get isOpen() { return !this.large.hidden; }

  // Other sheets in place of these.
  show(captions, pictures) {
    for (const { url } of this.#shown) URL.revokeObjectURL(url);
    this.#shown = [];
    this.row.replaceChildren();
    this.add(captions, pictures);
    if (this.isOpen) this.open(Math.min(this.#at, this.#shown.length - 1));
  }

  // More sheets behind these.
  add(captions, pictures) {
    captions.forEach((caption, number) => {
      const url = pictured(pictures[number]);
      const place = this.#shown.push({ caption, url }) - 1;
      this.row.append(make("button", { type: "button", class: "sheet", onclick: () => this.open(place) },
        make("img", { src: url, alt: "" }), make("span", {}, caption)));
    });
  }

  // What is shown is out of date until other sheets come.
  age(isOld) {
    this.#old = isOld;
    this.#say();
    this.row.classList.toggle("old", isOld);
    this.large.classList.toggle("old", isOld);
  }

  open(number) {
    if (!this.#shown[number]) return this.close();
    const first = !this.isOpen;
    this.#at = number;
    this.picture.src = this.#shown[number].url;
    this.picture.alt = this.#shown[number].caption;
    this.#say();
    this.before.disabled = number === 0;
    this.after.disabled = number === this.#shown.length - 1;
    this.large.hidden = false;
    this.stage.classList.add("covered");
    if (first) this.paper.focus();
  }

  close() {
    if (!this.isOpen) return;
    this.large.hidden = true;
    this.stage.classList.remove("covered");
    this.row.children[this.#at]?.focus();
  }

  #say() {
    const caption = this.#shown[this.#at]?.caption ?? "";
    this.caption.textContent = this.#old ? `Before the change. ${caption}` : caption;
  }

  #closer(is) {
    this.large.classList.toggle("closer", is);
    this.size.setAttribute("aria-pressed", String(is));
  }

  #key(event) {
    const closer = this.large.classList.contains("closer"); // then arrows move the sheet
    if (event.key === "Escape") this.close();
    else if (event.key === "PageDown" || (event.key === "ArrowRight" && !closer)) this.#turn(1);
    else if (event.key === "PageUp" || (event.key === "ArrowLeft" && !closer)) this.#turn(-1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #turn(by) { if (this.#shown[this.#at + by]) this.open(this.#at + by); }
}
