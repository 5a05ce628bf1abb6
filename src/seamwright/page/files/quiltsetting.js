// A quilt's name and how it is set: straight or on point, sashing, borders, binding, back, batting, a size to come near to.
//
// Knows:  which fields each has, and what they ask for (quilt/edits.py).

import { make } from "./dom.js";
import { always, does, fabric, group, length, line, row, select, tick, words } from "./quiltfields.js";

const BEDS = [["", "as large as it comes out"], ["crib", "crib"], ["lap", "lap"], ["twin", "twin"], ["queen", "queen"], ["king", "king"], ["own", "a size of your own"]];
const KINDS = [["butted", "sides first, then top and bottom"], ["mitred", "corners at 45 degrees"], ["blocks", "blocks in a row"], ["coping", "fills up to the next blocks"]];

export function nameOf(quilt) {
  const { app, change } = quilt;
  const made = always();
  app.desk.addEventListener("change", () => {
    if (app.desk.kind !== "quilt" || !app.desk.view) return;
    made.show(words("Name of the quilt", "quilt-name", app.desk.view.name, (name) => change({ do: "name", name }), { maxlength: 120 }));
  });
  return made.element;
}

export function settingOf(quilt) {
  const { app, change } = quilt;
  const setting = group("Setting and sashing"), borders = group("Borders"), edge = group("Edge, back and size"), colours = group("Fabrics");
  const fabrics = make("datalist", { id: "quilt-fabrics" });

  function show() {
    const { view } = app.desk;
    if (app.desk.kind !== "quilt" || !view?.rows) return;
    const metric = view.units === "metric";
    setting.show(...settingFields(view, change, metric));
    borders.show(...borderFields(view, change, metric));
    edge.show(...edgeFields(view, change, metric));
    showFabrics();
  }

  function showFabrics() {
    const known = quilt.picture.now?.fabrics ?? [], stated = new Set((app.desk.view?.fabrics ?? []).map(([name]) => name));
    fabrics.replaceChildren(...known.map(([name]) => make("option", { value: name })));
    colours.show(
      line("A colour given here holds for every block of the quilt; the blocks' own files stay as they are."),
      ...known.map(([name, colour], k) => row(
        make("label", { class: "quilt-colour" },
          make("input", { type: "color", id: `quilt-colour-${k}`, value: colour || "#c8c8c8",
            onchange: (event) => change({ do: "colour", name, colour: event.target.value }) }),
          make("span", {}, colour ? name : `${name}: no colour yet`)),
        stated.has(name) ? does("As in the blocks", `quilt-own-${k}`, () => change({ do: "drop fabric", name }),
          { class: "plain", "aria-label": `${name} as in the blocks` }) : null)),
    );
  }

  app.desk.addEventListener("change", show);
  quilt.picture.addEventListener("picture", showFabrics);
  return [fabrics, setting.element, borders.element, edge.element, colours.element];
}

function settingFields(view, change, metric) {
  const sash = view.sashing ?? ["", "", "", false];
  const named = view.sashing?.[1] || view.triangles || aFabric(view);
  const sashing = (wanted) => change({ do: "sashing", width: sash[0], fabric: sash[1] || named, cornerstones: sash[2], outside: sash[3], ...wanted });
  return [
    select("Blocks lie", "quilt-set", [["straight", "straight"], ["point", "on point"]], view.on_point ? "point" : "straight",
      (value) => change({ do: "set", point: value === "point", triangles: value === "point" ? view.triangles || named : "" })),
    view.on_point ? fabric("Setting triangles of", "quilt-triangles", view.triangles, (triangles) => change({ do: "set", point: true, triangles })) : null,
    row(
      length("Sashing, finished width", "quilt-sash", sash[0], (width) => sashing({ width }), metric ? "none, or 4 cm" : "none, or 1 1/2 in"),
      view.sashing ? fabric("Sashing of", "quilt-sash-fabric", sash[1], (name) => sashing({ fabric: name })) : null),
    view.sashing ? fabric("Squares where strips meet, of", "quilt-stones", sash[2], (cornerstones) => sashing({ cornerstones }), "none: strips run through") : null,
    view.sashing && !view.on_point ? tick("Strips round the outside too", "quilt-outside", sash[3], (outside) => sashing({ outside })) : null,
  ];
}

function borderFields(view, change, metric) {
  const blocks = view.blocks.map(({ name }) => [name, name]);
  const fields = view.borders.map((border, k) => {
    const number = k + 1, id = `quilt-border-${number}`;
    const set = (wanted) => change({ do: "border", number, ...border, fabric: border.fabric || aFabric(view), ...wanted });
    const plain = border.kind === "butted" || border.kind === "mitred";
    const kind = (value) => set({ kind: value, width: plain || value === "blocks" || value === "coping" ? border.width : metric ? "8 cm" : "3 in",
      block: border.block || blocks[0]?.[0] || "", corner: value === "blocks" ? border.corner : "" });
    return make("fieldset", {},
      make("legend", {}, `Border ${number}${number === 1 ? ", the innermost" : ""}`),
      select("Its kind", `${id}-kind`, KINDS, border.kind, kind),
      border.kind === "blocks"
        ? row(select("Of block", `${id}-block`, blocks, border.block, (block) => set({ block })),
            select("In the corners", `${id}-corner`, [["", border.corners ? "plain squares" : "the same block"], ...blocks], border.corner, (corner) => set({ corner })))
        : row(length(border.kind === "coping" ? "At least" : "Finished width", `${id}-width`, border.width, (width) => set({ width })),
            fabric("Fabric", `${id}-fabric`, border.fabric, (name) => set({ fabric: name }))),
      border.kind === "butted" || (border.kind === "blocks" && !border.corner)
        ? fabric("Corner squares of", `${id}-corners`, border.corners, (corners) => set({ corners })) : null,
      does("Take it away", `${id}-less`, () => change({ do: "border", number, kind: "" }), { "aria-label": `Take border ${number} away` }));
  });
  return [
    ...fields,
    does("Add a border", "quilt-border-more", () => change({ do: "border", number: view.borders.length + 1, kind: "butted",
      width: metric ? "8 cm" : "3 in", fabric: aFabric(view) })),
  ];
}

function edgeFields(view, change, metric) {
  const { binding, backing, batting } = view;
  const bind = (wanted) => change({ do: "binding", fabric: binding?.[0] ?? "", width: binding?.[1] ?? "", none: false, ...wanted });
  const back = (wanted) => change({ do: "backing", fabric: backing?.[0] ?? "", width: backing?.[1] ?? "", over: backing?.[2] ?? "", none: false, ...wanted });
  const bed = BEDS.some(([name]) => name === view.fit) ? view.fit : "own";
  return [
    tick("A binding", "quilt-bound", binding !== null, (on) => bind({ none: !on })),
    binding ? row(fabric("Binding of", "quilt-binding", binding[0], (name) => bind({ fabric: name }), "not said"),
      length("Cut this wide", "quilt-binding-width", binding[1], (width) => bind({ width }), metric ? "6.5 cm" : "2 1/2 in")) : null,
    tick("A back", "quilt-backed", backing !== null, (on) => back({ none: !on })),
    backing ? row(fabric("Back of", "quilt-backing", backing[0], (name) => back({ fabric: name }), "not said"),
      length("Its fabric is this wide", "quilt-backing-width", backing[1], (width) => back({ width }), "as usual"),
      length("Beyond the top", "quilt-backing-over", backing[2], (over) => back({ over }), metric ? "10 cm" : "4 in")) : null,
    tick("Batting", "quilt-batted", batting !== null, (on) => change({ do: "batting", over: "", none: !on })),
    select("Come near to the size", "quilt-fit", BEDS, bed, (name) => change({ do: "fit", size: name === "own" ? metric ? "150 x 200 cm" : "60 x 80 in" : name })),
    bed === "own" && view.fit ? words("Width x height", "quilt-fit-own", view.fit, (size) => change({ do: "fit", size })) : null,
    select("Measures", "quilt-units", [["", "inches"], ["metric", "centimetres"]], view.units === "metric" ? "metric" : "", (value) => change({ do: "option", name: "units", value })),
  ];
}

// A fabric to begin with: one that the quilt knows, else a name to be changed.
function aFabric(view) {
  return view.sashing?.[1] || view.triangles || view.borders.map((border) => border.fabric).find(Boolean) || view.binding?.[0]
    || view.fabrics[0]?.[0] || document.querySelector("#quilt-fabrics option")?.value || "sea";
}
