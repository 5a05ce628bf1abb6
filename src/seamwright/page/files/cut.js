// Cut: what to buy, which strips and pieces, and the list as a file.
//
// Knows:  when the list is asked for, what is said before and meanwhile.
// Leaves: the list itself (page/cutting.py), how it is shown (story.js), options (fields.js), files (download.js).

import { ask } from "./ask.js";
import { button, make } from "./dom.js";
import { maker } from "./download.js";
import { choices, fieldsOf } from "./fields.js";
import { storyOf } from "./story.js";
import { Ways } from "./ways.js";
import { whyNot } from "./why.js";

export function mount(app, inside) {
  const reason = make("p", { class: "reason", role: "status" });
  const options = make("div", { class: "cut-options" });
  const state = make("p", { class: "summary", role: "status" });
  const list = make("div", { class: "cut-list" });
  const made = maker();
  const ways = new Ways(app, "all, a list of each", look);
  const pdf = button("Cutting list (PDF)", () => file(pdf, "pdf"), { class: "first" });
  const table = button("Table for a spreadsheet (CSV)", () => file(table, "csv"));
  const files = [pdf, table];
  let fields = null, seen = "", stop = null, found = null;

  inside.append(reason, options, make("div", { class: "files" }, ...files), made.element, state, list);
  build().catch(() => {}); // asked for again when the part is opened

  async function build() {
    if (fields) return;
    fields = fieldsOf(app, (await choices()).filter((one) => one.where === "cut"));
    options.append(fields.element, ways.element);
    showOptions();
  }

  function showOptions() {
    fields?.show(app.desk.view?.options ?? {});
    ways.show();
  }

  const asked = () => ({ name: app.desk.name, text: app.desk.text, options: ways.options });

  async function look() {
    const why = whyNot(app);
    reason.replaceChildren(...why);
    reason.hidden = why.length === 0;
    for (const one of files) one.disabled = why.length > 0;
    const body = asked();
    const of = JSON.stringify(body);
    if (of !== seen) { list.classList.toggle("old", found !== null); made.clear(); }
    if (why.length) { stop?.abort(); stop = null; state.textContent = found ? "The list of the drawing as it was before." : ""; return; }
    if (app.work !== "cut") return;
    stop?.abort();
    if (of === seen) { stop = null; list.classList.remove("old"); state.textContent = ""; return; }
    const mine = stop = new AbortController();
    state.textContent = found ? "The drawing is another: its list is being made …" : "The list is being made …";
    list.setAttribute("aria-busy", "true");
    try {
      const answer = await ask("POST", "cutting", body, mine.signal);
      if (mine !== stop) return;
      [found, seen] = [answer, of];
      list.classList.remove("old");
      // Its first heading is that of this part of the work.
      list.replaceChildren(...storyOf(found.story.slice(1)), make("p", { class: "quiet" }, found.proven));
      state.textContent = "";
    } catch (refusal) {
      if (refusal.name === "AbortError" || mine !== stop) return;
      forget();
      state.replaceChildren(make("span", { class: "fault" }, refusal.message), button("Try again", look));
    } finally {
      if (mine === stop) list.removeAttribute("aria-busy");
    }
  }

  function forget() {
    [found, seen] = [null, ""];
    list.replaceChildren();
    state.replaceChildren();
  }

  function file(pressed, form) { return made.run(pressed, "cutting/file", { ...asked(), form }); }

  app.desk.addEventListener("open", () => { ways.reset(); forget(); });
  app.desk.addEventListener("change", () => { showOptions(); look(); });
  app.verdict.addEventListener("verdict", look);
  app.events.addEventListener("work", () => { if (app.work === "cut") { look(); build().catch((refusal) => app.say(refusal.message)); } });
  look();
}
