// Print: which sheets, how they look, and the files.
//
// Knows:  when sheets are asked for, what is said before, meanwhile and after; which buttons can be pressed.
// Leaves: options (fields.js), pictures (sheets.js), files (download.js), whether it can be sewn (verdict.js).
// Method: nothing is asked before the verdict says that the drawing can be sewn, so a stuck or unfinished drawing has
//         its reason here. Sheets of an older drawing stay in sight, marked so, until the new ones are there.

import { ask } from "./ask.js";
import { button, make } from "./dom.js";
import { maker } from "./download.js";
import { choices, fieldsOf } from "./fields.js";
import { Sheets } from "./sheets.js";
import { Ways } from "./ways.js";
import { whyNot } from "./why.js";

export const KEYS = [
  ["Left, Right", "The sheet before, the next one, while one is large"],
  ["Escape", "Back to the drawing"],
];

const FEW = 3; // notes in sight
const LONG_MS = 3000; // what takes longer can be stopped

export function mount(app, inside) {
  const sheets = new Sheets(document.getElementById("sheet"));
  const made = maker();
  const reason = make("p", { class: "reason", role: "status" });
  const options = make("div", { class: "print-options" });
  const ways = new Ways(app, "all, sheets of each", look);
  const summary = make("p", { class: "summary", role: "status" });
  const more = button("Show more sheets", showMore, { hidden: true });
  const facts = make("div", { class: "facts" });
  const pdf = button("", () => file(pdf, "pdf"), { class: "first" });
  const cutter = button("For a cutter (SVG, DXF)", () => file(cutter, "cutter"));
  const booklet = button("Class booklet (PDF)", () => file(booklet, "booklet"));
  const picture = button("Picture of the plan (PNG)", () => file(picture, "picture"));
  const files = [pdf, cutter, booklet, picture];
  const bookOptions = make("details", {}, make("summary", {}, "What the booklet says"));
  let shown = [];           // groups of fields
  let seen = "";            // what the sheets in sight were made of
  let stop = null, found = null;

  inside.append(
    reason, options,
    make("div", { class: "sheets" }, summary, sheets.row, more),
    make("div", { class: "files" }, ...files), made.element, bookOptions, facts,
  );
  name(null);
  build().catch(() => {}); // asked for again when the part is opened

  async function build() {
    const all = await choices();
    if (shown.length) return;
    const group = (list, narrow) => { const made = fieldsOf(app, list, narrow); shown.push(made); return made.element; };
    const mine = all.filter((one) => one.where === "print");
    const rest = [...new Set(mine.map((one) => one.group))].filter(Boolean);
    options.append(
      group(mine.filter((one) => !one.group), true), ways.element,
      make("details", { class: "more" }, make("summary", {}, "More choices"),
        ...rest.map((words) => make("fieldset", {}, make("legend", {}, words), group(mine.filter((one) => one.group === words)))),
        make("p", { class: "elsewhere quiet" }, "Which seams are sewn on paper, and in what order: "), button("How it is sewn, in Check", () => app.open("check"))),
    );
    bookOptions.append(group(all.filter((one) => one.where === "book")));
    showOptions();
  }

  function showOptions() {
    for (const fields of shown) fields.show(app.desk.view?.options ?? {});
    ways.show();
  }

  const asked = () => ({ name: app.desk.name, text: app.desk.text, options: ways.options });

  // Sheets are asked for when they are looked at, and only of what can be sewn.
  async function look() {
    const why = whyNot(app);
    reason.replaceChildren(...why);
    reason.hidden = why.length === 0;
    for (const one of files) one.disabled = why.length > 0;
    const body = asked();
    const of = JSON.stringify(body);
    if (of !== seen) { sheets.age(found !== null); made.clear(); }
    if (why.length) { stop?.abort(); stop = null; if (found) summary.textContent = "Sheets of the drawing as it was before."; return; }
    if (app.work !== "print") return;
    stop?.abort();
    if (of === seen) { stop = null; sheets.age(false); return tell(); }
    const mine = stop = new AbortController();
    summary.textContent = found ? "The drawing is another: its sheets are being made …" : "Sheets are being made …";
    const long = setTimeout(() => summary.append(" ", button("Stop", () => mine.abort())), LONG_MS);
    sheets.row.setAttribute("aria-busy", "true");
    name(null);
    try {
      const answer = await ask("POST", "print/pages", body, mine.signal);
      if (mine !== stop) return;
      [found, seen] = [answer, of];
      sheets.show(answer.captions, answer.pictures);
      sheets.age(false);
      tell();
    } catch (refusal) {
      if (mine !== stop) return;
      forget();
      const words = refusal.name === "AbortError" ? "Stopped: no sheets were made." : refusal.message;
      summary.replaceChildren(make("span", { class: "fault" }, words), button("Try again", look));
    } finally {
      clearTimeout(long);
      if (mine === stop) sheets.row.removeAttribute("aria-busy");
    }
  }

  // No sheets are in sight.
  function forget() {
    [found, seen] = [null, ""];
    sheets.show([], []);
    facts.replaceChildren();
    summary.replaceChildren();
    more.hidden = true;
    name(null);
  }

  function tell() {
    summary.textContent = found.made;
    more.hidden = sheets.count >= found.shown;
    name(found.sheets);
    const [near, far] = [found.notes.slice(0, FEW), found.notes.slice(FEW)];
    const list = (lines) => make("ul", {}, ...lines.map((line) => make("li", {}, line)));
    facts.replaceChildren(
      make("p", { class: "next" }, found.next),
      ...[found.alike, ...found.blocks, ...found.stock].filter(Boolean).map((line) => make("p", {}, line)),
      near.length ? list(near) : "",
      far.length ? make("details", {}, make("summary", {}, `${far.length} more to know`), list(far)) : "",
      make("p", { class: "quiet" }, found.true),
    );
  }

  async function showMore() {
    const of = seen;
    more.disabled = true;
    try {
      const answer = await ask("POST", "print/pages", { ...asked(), first: sheets.count + 1 });
      if (of === seen) { sheets.add(answer.captions, answer.pictures); more.hidden = sheets.count >= answer.shown; }
    } catch (refusal) {
      app.say(refusal.message);
    }
    more.disabled = false;
  }

  // How many sheets stands on the button, once it is known.
  function name(count) {
    pdf.replaceChildren("Foundations (PDF)", ...(count ? [make("span", { class: "count" }, count === 1 ? "1 sheet" : `${count} sheets`)] : []));
  }

  function file(pressed, kind) { return made.run(pressed, "print/file", { ...asked(), kind }); }

  app.desk.addEventListener("open", () => { ways.reset(); forget(); sheets.close(); });
  app.desk.addEventListener("change", () => { showOptions(); look(); });
  app.verdict.addEventListener("verdict", look);
  app.events.addEventListener("work", () => { if (app.work === "print") { look(); build().catch((refusal) => app.say(refusal.message)); } else sheets.close(); });
  look();
}
