// Older versions of a design: looked at, and brought back.
//
// Knows:  the dialog, what is said of each version. Leaves: keeping them (the server), undo (desk.js).

import { ask } from "./ask.js";
import { askIn, button, make } from "./dom.js";
import { picture } from "./looks-small.js";

const WAYS = {
  new: "made", change: "changed", undo: "undone", redo: "redone", elsewhere: "changed elsewhere", brought: "brought in",
  copy: "copied", renamed: "renamed", back: "brought back", aside: "kept aside",
};

export const saidOn = (at) => new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });

// Shows the last versions of a design; one that is chosen becomes its text, and undo takes that back.
export async function showVersions(app, name) {
  const found = await ask("GET", `designs/${encodeURIComponent(name)}/versions`);
  const dialog = make("dialog", { class: "versions", "aria-labelledby": "versions-title" });
  const rows = found.map((version, k) => {
    const take = button("Bring this one back", () => dialog.close(version.hash), { "aria-label": `Bring back the version of ${saidOn(version.at)}` });
    return make("li", {},
      picture(name, version.hash),
      make("span", { class: "about" }, make("strong", {}, saidOn(version.at)),
        make("span", { class: "quiet" }, `${WAYS[version.way] ?? "changed"}${version.of ? ` from ${version.of}` : ""}${k ? "" : ", the latest"}`)),
      take);
  });
  dialog.append(
    make("div", { class: "row apart" }, make("h2", { id: "versions-title" }, `Versions of ${name}`), button("Close", () => dialog.close(""))),
    make("p", { class: "quiet" }, rows.length ? "The last 50 are kept. Undo goes back from whichever you bring back." : "No older version is kept yet."),
    make("ul", { class: "designs" }, ...rows),
  );
  const chosen = await askIn(dialog);
  if (!chosen) return;
  const { text } = await ask("GET", `designs/${encodeURIComponent(name)}/versions/${chosen}`);
  if (app.desk.name !== name) await app.desk.open(name);
  await app.desk.replace(text);
  app.say("This version is on the table now. Undo takes it back.");
}
