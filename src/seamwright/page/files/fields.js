// Options as fields: each is a line of the drawing, so that every part of the work keeps to the same plan.
//
// Knows:  how a field looks, that a value is tried before it is kept, that an empty field takes the line away.
// Leaves: which options there are and what they mean (page/choices.py), keeping the drawing (desk.js).

import { ask } from "./ask.js";
import { make } from "./dom.js";

let table = null;

// All options that are offered, as the server tells them; asked for once.
export function choices() {
  table ??= ask("GET", "print/choices").catch((refusal) => { table = null; throw refusal; });
  return table;
}

// Fields of some of the options, side by side or below each other: {element, show}. `show` takes what the drawing states.
export function fieldsOf(app, offered) {
  const fields = offered.map((option) => fieldOf(app, option));
  return {
    element: make("div", { class: "fields" }, ...fields.map((field) => field.element)),
    show: (stated) => { for (const field of fields) field.show(stated); },
  };
}

function fieldOf(app, option) {
  const id = `option-${option.option}`;
  const fault = make("p", { class: "fault", id: `${id}-fault`, role: "alert", hidden: true });
  const help = make("p", { class: "help quiet", id: `${id}-help` }, option.help);
  const control = CONTROLS[option.kind]?.(option, id) ?? typed(option, id);
  control.input.setAttribute("aria-describedby", `${id}-help ${id}-fault`);
  let shown = null; // the value that the drawing states

  control.element.addEventListener("change", async (event) => {
    event.stopPropagation();
    const value = control.value();
    if (value === null || value === shown) return fail("");
    const { name, text } = app.desk;
    try {
      await ask("POST", "print/choice", { name, text, option: option.option, value });
      await app.desk.change([{ do: "option", name: option.option, value }]);
      fail("");
    } catch (refusal) {
      fail(refusal.message);
    }
  });

  function fail(sentence) {
    fault.textContent = sentence;
    fault.hidden = !sentence;
    if (sentence) control.input.setAttribute("aria-invalid", "true"); else control.input.removeAttribute("aria-invalid");
  }

  return {
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
  const size = make("input", { id: `${id}-own`, type: "text", autocomplete: "off", placeholder: "8 x 10 in, 20 x 30 cm", "aria-label": "Width x height of your paper" });
  size.hidden = true;
  list.input.addEventListener("input", () => {
    size.hidden = list.input.value !== OWN;
    if (!size.hidden) size.focus();
  });
  const element = make("div", { class: "paper-choice" }, list.input, size);
  return {
    input: list.input, element,
    parts: [make("label", { for: id }, option.label), element],
    value: () => (list.input.value !== OWN ? list.input.value : size.value.trim() || null),
    show(value) {
      list.input.value = known(value) ? value : OWN;
      size.hidden = known(value);
      size.value = known(value) ? "" : value;
    },
  };
}
