// Options as fields: each is a line of the drawing, so that every part of the work keeps to the same plan.
//
// Knows:  how a field looks, that a value is tried before it is kept, that an empty field takes the line away.
// Leaves: which options there are and what they mean (page/choices.py), keeping the drawing (desk.js).

import { ask } from "./ask.js";
import { make } from "./dom.js";

let table = null, made = 0;

// All options that are offered, as the server tells them; asked for once.
export function choices() {
  table ??= ask("GET", "print/choices").catch((refusal) => { table = null; throw refusal; });
  return table;
}

// Fields of some of the options: {element, show}. `show` takes what the drawing states. What is wrong with a value
// stands at its field, or with `narrow` fields below all of them.
export function fieldsOf(app, offered, narrow = false) {
  const fields = offered.map((option) => fieldOf(app, option));
  return {
    element: make("div", { class: narrow ? "fields narrow" : "fields" }, ...fields.map((field) => field.element),
      ...(narrow ? fields.map((field) => field.fault) : [])),
    show: (stated) => { for (const field of fields) field.show(stated); },
  };
}

function fieldOf(app, option) {
  const id = `${option.option}-${++made}`; // quilt and block may offer the same
  const fault = make("p", { class: "fault", id: `${id}-fault`, role: "alert", hidden: true });
  const help = make("p", { class: "help quiet", id: `${id}-help` }, option.help);
  const control = CONTROLS[option.kind]?.(option, id) ?? typed(option, id);
  control.input.setAttribute("aria-describedby", `${id}-help ${id}-fault`);
  let shown = null; // the value that the drawing states

  control.element.addEventListener("change", async (event) => {
    event.stopPropagation();
    const value = control.value();
    if (value === null || value === shown) return fail("");
    try {
      await ask("POST", "print/choice", { option: option.option, value });
      await app.desk.change([{ do: "option", name: option.option, value }]);
      fail("");
    } catch (refusal) {
      fail(refusal.message);
    }
  });

  function fail(sentence) {
    fault.textContent = sentence && `${option.label}: ${sentence}`;
    fault.hidden = !sentence;
    if (sentence) control.input.setAttribute("aria-invalid", "true"); else control.input.removeAttribute("aria-invalid");
  }

  return {
    fault,
    element: make("div", { class: `field ${option.kind}` }, ...control.parts, help, fault),
    show(stated) {
      const value = stated[option.option] ?? "";
      if ("placeholder" in control.input) control.input.placeholder = stated.units === "metric" ? option.metric : option.usual;
      if (value === shown) return;
      shown = value;
      control.show(value);
      fail("");
    },
  };
}

const CONTROLS = { choice: chosen, paper: paperOf, yes: ticked, no: ticked };

function typed(option, id) {
  const input = make("input", { id, type: "text", autocomplete: "off", spellcheck: "false" });
  return {
    input, element: input,
    parts: [make("label", { for: id }, option.label), input],
    value: () => input.value.trim(),
    show: (value) => { input.value = value; },
  };
}

function chosen(option, id) {
  const input = make("select", { id }, ...option.choices.map(([value, words]) => make("option", { value }, words)));
  return {
    input, element: input,
    parts: [make("label", { for: id }, option.label), input],
    value: () => input.value,
    show: (value) => { input.value = option.choices.some(([known]) => known === value) ? value : ""; },
  };
}

function ticked(option, id) {
  const input = make("input", { id, type: "checkbox" });
  const stands = option.kind === "yes";
  return {
    input, element: input,
    parts: [make("label", { for: id, class: "tick" }, input, make("span", {}, option.label))],
    value: () => (input.checked === stands ? option.value : ""),
    show: (value) => { input.checked = (value === option.value) === stands; },
  };
}

// A paper by its name, or a size of one's own in the field that then appears below.
function paperOf(option, id) {
  const OWN = "own";
  const known = (value) => option.choices.some(([name]) => name === value);
  const list = chosen({ ...option, choices: [...option.choices, [OWN, "Another size …"]] }, id);
  const size = make("input", { id: `${id}-own`, type: "text", autocomplete: "off", placeholder: "8 x 10 in, or 20 x 30 cm" });
  const own = make("div", { class: "own-size", hidden: true }, make("label", { for: size.id }, "Width x height"), size);
  list.input.addEventListener("input", () => {
    own.hidden = list.input.value !== OWN;
    if (!own.hidden) size.focus();
  });
  const element = make("div", { class: "paper-choice" }, list.input, own);
  return {
    input: list.input, element,
    parts: [make("label", { for: id }, option.label), element],
    value: () => (list.input.value !== OWN ? list.input.value : size.value.trim() || null),
    show(value) {
      list.input.value = known(value) ? value : OWN;
      own.hidden = known(value);
      size.value = known(value) ? "" : value;
    },
  };
}
