// Her designs: listed, opened, made new, brought in.

import { ask } from "./ask.js";

export async function mount(app) {
  const list = await ask("GET", "designs").catch((refusal) => { app.say(refusal.message); return []; });
  const first = list.find((design) => design.kind === "block");
  if (first) await app.desk.open(first.name);
}
