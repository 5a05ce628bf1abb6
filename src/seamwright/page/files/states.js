// How it stands with saving, in words; and what is asked of her when a design was changed elsewhere.
//
// Knows:  the words of each state, the banner over the drawing, what is shown of a text that cannot be read.
// Leaves: saving itself (desk.js).

import { keep } from "./download.js";
import { button, make } from "./dom.js";
import { showVersions } from "./versions.js";

const WORDS = {
  none: "",
  new: "Kept as soon as you draw",
  saving: "Saving …",
  saved: "Saved",
  offline: "Offline: nothing can be changed until seamwright answers",
  held: "Offline: kept here, saved as soon as seamwright answers",
  unkept: "Not saved yet",
  conflict: "Changed elsewhere: not saved",
};

export function mountStates(app) {
  const { desk } = app;
  const saved = document.getElementById("saved");
  const banner = make("div", { id: "banner", role: "region", "aria-label": "About saving", hidden: true });
  document.getElementById("top").after(banner);
  const unread = make("div", { id: "unread", hidden: true });
  document.getElementById("sheet").append(unread);
  let shown = "";

  const tried = (work) => () => work().catch((refusal) => app.say(refusal.message));
  const copyOut = () => keep(new Blob([desk.text], { type: "text/plain" }), desk.name);

  function told() {
    const name = desk.view?.name || desk.name;
    if (desk.state === "conflict" && !desk.there?.hash) {
      return [[`${desk.name} is no longer in the folder. What you have here is not saved.`],
        button("Write it again", tried(() => desk.writeAgain()), { class: "first" })];
    }
    if (desk.state === "conflict") {
      return [[`${desk.name} was changed elsewhere while you worked on it. Nothing is lost: both are kept until you choose.`],
        button("Keep mine as a copy", tried(() => desk.keepMine()), { class: "first" }),
        button("Take what is there", tried(() => desk.takeTheirs()))];
    }
    if (desk.state === "offline") {
      const why = desk.why ? "Seamwright was started anew: open the address that it printed, and this page goes on by itself."
        : "Seamwright does not answer. Is it still running? Start it again on the same folder.";
      const held = desk.unsaved ? ` Your last change to ${name} is kept in this browser.` : "";
      return [[why + held], button("Download what is here as a file", copyOut)];
    }
    if (desk.state === "unkept") {
      return [[`${desk.why} It is tried again by itself; until then your work is kept in this browser.`],
        button("Download what is here as a file", copyOut)];
    }
    return null;
  }

  function showState() {
    saved.setAttribute("aria-busy", String(desk.state === "saving")); // read out once it is known how it went
    saved.textContent = desk.state === "saved" && desk.why ? `Saved. ${desk.why}` : WORDS[desk.state === "offline" && desk.unsaved ? "held" : desk.state];
    saved.dataset.state = desk.state;
    const found = told();
    const key = found ? found[0][0] : "";
    if (key === shown) return; // a button under the finger stays where it is
    shown = key;
    banner.hidden = !found;
    if (found) banner.replaceChildren(make("p", { role: "alert" }, found[0][0]), make("div", { class: "row" }, ...found.slice(1)));
  }

  function showText() {
    const { problem } = desk;
    document.body.dataset.readable = problem ? "no" : "yes";
    unread.hidden = !problem;
    if (!problem) return;
    const faults = problem.faults.map((fault) => make("li", {}, fault.text));
    unread.replaceChildren(
      make("h2", {}, `${desk.name} cannot be read`),
      make("p", {}, "It was changed by hand or by another program, and these lines say nothing that can be drawn:"),
      make("ul", {}, ...faults),
      make("div", { class: "row" }, button("Look at older versions", () => showVersions(app, desk.name), { class: "first" })),
    );
  }

  desk.addEventListener("state", showState);
  desk.addEventListener("open", showState);
  desk.addEventListener("change", showText);
  desk.addEventListener("word", (event) => app.say(event.detail));
  addEventListener("beforeunload", (event) => { if (desk.unsaved && !desk.remembered) event.preventDefault(); });
  showState();
}
