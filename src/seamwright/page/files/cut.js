// Cut: what to buy, which strips and pieces, and the list as a file.
//
// Knows:  what stands where.
// Leaves: the list itself (page/cutting.py), when it is asked for (answer.js), how it looks (story.js), options (fields.js).

import { Answer } from "./answer.js";
import { button, make } from "./dom.js";
import { maker } from "./download.js";
import { choices, fieldsOf } from "./fields.js";
import { storyOf } from "./story.js";
import { Ways } from "./ways.js";

const FILES = [["pdf", "Cutting list (PDF)"], ["csv", "Table for a spreadsheet (CSV)"]];

export function mount(app, inside) {
  const options = make("div", { class: "cut-options" });
  const list = make("div", { class: "cut-list" });
  const made = maker();
  const files = FILES.map(([form, words]) => button(words, (event) => made.run(event.currentTarget, "cutting/file", { ...asked(), form })));
  files[0].classList.add("first");
  const ways = new Ways(app, "all, a list of each", () => answer.look());
  const asked = () => ({ name: app.desk.name, text: app.desk.text, options: ways.options });
  let fields = null, answer = null;

  answer = new Answer(app, {
    work: "cut", path: "cutting", what: "the list", buttons: files, asked,
    // Its first heading is that of this part of the work.
    show: (found) => {
      answer.state.replaceChildren();
      list.replaceChildren(...storyOf(found.story.slice(1)), make("p", { class: "quiet" }, found.proven));
    },
    forget: () => list.replaceChildren(),
    age: (isOld) => { list.classList.toggle("old", isOld); if (!answer?.isFresh) made.clear(); },
  });
  inside.append(answer.reason, options, make("div", { class: "files" }, ...files), made.element, answer.state, list);

  async function offer() {
    const mine = (await choices()).filter((one) => one.where === "cut");
    if (fields) return;
    fields = fieldsOf(app, mine);
    options.append(fields.element, ways.element);
    showOptions();
  }

  function showOptions() {
    fields?.show(app.desk.view?.options ?? {});
    ways.show();
  }

  app.desk.addEventListener("open", () => ways.reset());
  app.desk.addEventListener("change", showOptions);
  app.events.addEventListener("work", () => { if (app.work === "cut") offer().catch((refusal) => app.say(refusal.message)); });
  offer().catch(() => {}); // asked for again when the part is opened
  answer.look();
}
