// Small pictures of designs, asked for one after the other, so that the list does not hold up the verdict.

import { askPicture } from "./ask.js";

let turn = Promise.resolve();

// An empty frame that fills with the picture of a design, or of one of its versions.
export function picture(name, version = "") {
  const frame = document.createElement("span");
  frame.className = "small";
  const path = `designs/${encodeURIComponent(name)}/picture${version ? `?version=${version}` : ""}`;
  turn = turn.then(async () => {
    if (!frame.isConnected) return;
    const blob = await askPicture(path).catch(() => null);
    if (!blob) { frame.textContent = "no picture"; return; }
    const image = new Image();
    image.alt = "";
    image.src = URL.createObjectURL(blob);
    image.addEventListener("load", () => URL.revokeObjectURL(image.src));
    frame.replaceChildren(image);
  });
  return frame;
}
