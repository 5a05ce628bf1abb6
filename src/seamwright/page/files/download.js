// A file asked for, and handed to the browser to keep.
//
// Knows:  how a file goes to the browser's downloads, what is said while it is made and afterwards.
// Leaves: the asking (ask.js), what is in the file (the server).

import { askFile } from "./ask.js";
import { button, make } from "./dom.js";

// Says what became of a file, in a place of its own: {element, clear, run}.
export function maker() {
  const said = make("div", { class: "made", role: "status" });
  const tell = (...parts) => {
    said.replaceChildren(...parts);
    if (parts.length) said.scrollIntoView({ block: "nearest" }); // the button may stay in sight far above it
  };
  return {
    element: said,
    clear: () => tell(),
    // Asks for a file and keeps it; `words` is what the button says, which waits meanwhile.
    async run(pressed, path, body) {
      const stop = new AbortController();
      pressed.disabled = true;
      tell(make("p", {}, `Making ${pressed.firstChild.textContent} …`), button("Stop", () => stop.abort()));
      try {
        const { blob, name, said: words } = await askFile(path, body, stop.signal);
        keep(blob, name);
        tell(make("p", { class: "kept" }, make("strong", {}, name), " is in your browser's downloads."), ...words.map((line) => make("p", {}, line)));
      } catch (refusal) {
        tell(make("p", { class: "fault" }, refusal.name === "AbortError" ? "Stopped. Nothing was made." : refusal.message));
      } finally {
        pressed.disabled = false;
      }
    },
  };
}

export function keep(blob, name) {
  const link = make("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // the browser reads it after the click
}
