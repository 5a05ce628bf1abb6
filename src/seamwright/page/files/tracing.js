// A faint picture under the drawing, to trace by hand.
//
// Knows:  the picture of each design, where it lies, how faint it is. It is kept in her folder beside older versions
//         (page/tracing.py) and goes nowhere else: it is no part of the design, and never printed.
// Leaves: finding lines in a picture (nobody does that here).
// Units:  inches of the finished block.

import { ask } from "./ask.js";
import { button, labelled, make } from "./dom.js";
import { shape } from "./chart.js";
import { read, say } from "./lengths.js";

const MOST_BYTES = 40_000_000, MOST_PIXELS = 2400;
const KINDS = ["image/png", "image/jpeg"];

// The picture as PNG or JPEG of a reasonable size, with its proportion; a sentence is thrown if it is none.
async function taken(file) {
  if (!KINDS.includes(file.type)) throw new Error(`${file.name} is no PNG or JPEG picture. Choose one of these.`);
  if (file.size > MOST_BYTES) throw new Error(`${file.name} is larger than 40 MB. Make it smaller first.`);
  const bits = await createImageBitmap(file).catch(() => { throw new Error(`${file.name} cannot be read as a picture. Save it anew as PNG or JPEG.`); });
  const { width, height } = bits;
  const by = Math.min(1, MOST_PIXELS / Math.max(width, height));
  const canvas = make("canvas", { width: Math.max(1, Math.round(width * by)), height: Math.max(1, Math.round(height * by)) });
  canvas.getContext("2d").drawImage(bits, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise((done) => canvas.toBlob(done, file.type, 0.85));
  return { blob, tall: height / width };
}

const inBase64 = (blob) => new Promise((done, failed) => {
  const reader = new FileReader();
  reader.onload = () => done(reader.result.slice(reader.result.indexOf(",") + 1));
  reader.onerror = () => failed(reader.error);
  reader.readAsDataURL(blob);
});
const fromBase64 = (text, type) => new Blob([Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0))], { type });

export function mountTracing(app, hand) {
  const { chart, chart: { svg } } = hand;
  let picture = null; // { blob, tall, x, y, wide, faint, hidden }
  let address = "", placing = false, grip = null;

  const choose = make("input", { type: "file", accept: KINDS.join(","), class: "away", tabindex: -1, "aria-label": "Choose a picture", onchange: () => { if (choose.files[0]) lay(choose.files[0]); choose.value = ""; } });
  const pick = button("Choose a picture …", () => choose.click());
  const faint = make("input", { type: "range", min: 5, max: 80, step: 5, oninput: () => { picture.faint = Number(faint.value) / 100; show(); }, onchange: () => keep() });
  const length = (key, word) => {
    const field = make("input", { type: "text", size: 5, autocomplete: "off" });
    field.addEventListener("change", () => {
      const typed = field.value.trim();
      const value = key !== "wide" && /^-?0*\.?0*$/.test(typed) ? 0 : (typed.startsWith("-") ? -1 : 1) * (read(typed.replace(/^[-−]/, ""), app.units) ?? NaN);
      if (!Number.isFinite(value) || (key === "wide" && value <= 0)) app.say(`“${typed}” is no length. Type one, as in 8 1/2 or 20 cm.`);
      else { picture[key] = value; keep(); }
      show();
    });
    return [field, labelled(word, field), key];
  };
  const fields = [length("wide", "Width"), length("x", "From the left"), length("y", "From the top")];
  const move = button("Move it by hand", () => { placing = !placing; hand.tool.cancel(); show(); }, { "aria-pressed": "false" });
  const hide = button("Hide", () => { picture.hidden = !picture.hidden; keep(); show(); });
  const away = button("Take it away", async () => { picture = null; placing = false; await keep(); show(); });
  const rest = make("div", { class: "facts" },
    labelled("Faint to strong", faint), make("div", { class: "row" }, ...fields.map(([, label]) => label)), make("div", { class: "row" }, move, hide, away));
  const holder = make("details", { class: "more" },
    make("summary", {}, "Picture to trace"),
    make("p", { class: "quiet" }, "A PNG or JPEG, chosen here or dropped on the drawing. It is kept in your folder beside older versions, is no part of the design, and is never printed."),
    make("div", { class: "row" }, pick), choose, rest);

  // Keeps the picture, or only its place; a design that has no file yet keeps none.
  async function keep(whole = false) {
    const { name, fresh } = app.desk;
    if (fresh) return;
    const path = `tracing/${encodeURIComponent(name)}`;
    try {
      if (!picture) return await ask("DELETE", path);
      const { blob, x, y, wide, tall, faint, hidden } = picture;
      const kind = blob.type === "image/png" ? "png" : "jpeg";
      await ask("PUT", path, { laid: { kind, x, y, wide, tall, faint, hidden }, data: whole ? await inBase64(blob) : null });
    } catch (refusal) {
      app.say(refusal.message);
    }
  }

  async function lay(file) {
    try {
      const { blob, tall } = await taken(file);
      const { width, height } = hand.view;
      const wide = Math.min(width, height / tall);
      adopt({ blob, tall, wide, x: (width - wide) / 2, y: (height - wide * tall) / 2, faint: 0.35, hidden: false });
      if (app.work !== "draw") app.open("draw");
      holder.open = true;
      hand.tell("The picture lies under the drawing.");
      await keep(true);
    } catch (fault) {
      app.say(fault.message);
    }
  }

  function adopt(found) {
    if (address) URL.revokeObjectURL(address);
    picture = found;
    address = picture ? URL.createObjectURL(picture.blob) : "";
    show();
  }

  function show() {
    rest.hidden = !picture;
    pick.textContent = picture ? "Choose another picture …" : "Choose a picture …";
    svg.classList.toggle("placing", placing && Boolean(picture));
    move.setAttribute("aria-pressed", String(placing));
    if (!picture) return chart.fill("tracing");
    const { x, y, wide, tall, hidden } = picture;
    hide.textContent = hidden ? "Show" : "Hide";
    faint.value = Math.round(picture.faint * 100);
    for (const [field, , key] of fields) if (document.activeElement !== field) field.value = picture[key] < 0 ? `-${say(-picture[key], app.units)}` : say(picture[key], app.units).replace("about ", "");
    const high = wide * tall;
    const corners = placing ? [[x, y], [x + wide, y], [x, y + high], [x + wide, y + high]] : [];
    chart.fill("tracing", ...(hidden ? [] : [
      shape("image", { href: address, x, y, width: wide, height: high, opacity: picture.faint, preserveAspectRatio: "none", class: "trace" }),
    ]));
    grips.replaceChildren(...(placing ? [shape("rect", { x, y, width: wide, height: high, class: "own trace-edge" })] : []),
      ...corners.map((at, k) => chart.still(at, shape("rect", { x: -9, y: -9, width: 18, height: 18, class: "own trace-corner", "data-corner": k }))));
    chart.hold(grips);
  }

  const grips = shape("g", { class: "grips" });
  svg.append(grips);
  grips.addEventListener("pointerdown", (event) => {
    const at = chart.at(event);
    const corner = event.target.dataset.corner;
    grip = { at, was: { ...picture }, corner: corner === undefined ? null : Number(corner) };
    grips.setPointerCapture(event.pointerId);
  });
  grips.addEventListener("pointermove", (event) => {
    if (!grip) return;
    const at = chart.at(event);
    const { was, corner } = grip;
    if (corner === null) Object.assign(picture, { x: was.x + at[0] - grip.at[0], y: was.y + at[1] - grip.at[1] });
    else { // the corner across from it stays
      const right = corner % 2 === 1, low = corner > 1;
      const fixed = [right ? was.x : was.x + was.wide, low ? was.y : was.y + was.wide * was.tall];
      const wide = Math.max(0.2, Math.abs(at[0] - fixed[0]), Math.abs(at[1] - fixed[1]) / was.tall);
      Object.assign(picture, { wide, x: right ? fixed[0] : fixed[0] - wide, y: low ? fixed[1] : fixed[1] - wide * was.tall });
    }
    show();
  });
  grips.addEventListener("pointerup", () => { if (grip) keep(); grip = null; });

  const carried = (event) => [...(event.dataTransfer?.items ?? [])].some(({ type }) => KINDS.includes(type));
  const sheet = document.getElementById("sheet");
  sheet.addEventListener("dragover", (event) => { if (hand.active && carried(event)) { event.preventDefault(); event.stopPropagation(); } });
  sheet.addEventListener("drop", (event) => {
    const file = [...event.dataTransfer.files].find(({ type }) => KINDS.includes(type));
    if (!file || !hand.active) return;
    event.preventDefault();
    event.stopPropagation();
    lay(file);
  });

  // Another design has its own picture; the same one under another name keeps its picture.
  hand.addEventListener("renamed", () => { if (picture) keep(true); });
  hand.addEventListener("other", async () => {
    const { name, fresh, kind } = app.desk;
    placing = false;
    adopt(null);
    if (fresh || kind !== "block") return;
    const found = await ask("GET", `tracing/${encodeURIComponent(name)}`).catch(() => null);
    if (name !== app.desk.name || picture || !found?.laid) return;
    adopt({ blob: fromBase64(found.data, `image/${found.laid.kind}`), ...found.laid });
  });
  app.events.addEventListener("work", () => { if (placing && app.work !== "draw") { placing = false; show(); } });
  chart.addEventListener("zoom", () => { if (placing) chart.hold(grips); });
  rest.hidden = true;
  return holder;
}
