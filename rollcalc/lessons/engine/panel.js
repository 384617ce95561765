// The browser's own inputs around a picture that Python draws. Lengths travel in mm, whatever is shown.
const make = (tag, attributes, ...children) => {
  const element = Object.assign(document.createElement(tag), attributes);
  element.append(...children);
  return element;
};

const PATIENCE = 1500; // ms
const LATE = "No answer yet: the grey picture is of an earlier setting. If something else is running, wait. "
  + "If the kernel was restarted, run the cell again.";

function render({ model, el }) {
  // every request has a number; a picture whose number is not the last one is old, and says so where no answer comes
  // for a while, however many more requests are made meanwhile
  let waiting;
  const send = (name, value) => {
    model.set(name, value);
    model.set("asked", model.get("asked") + 1);
    model.save_changes();
    waiting ??= setTimeout(late, PATIENCE);
  };
  const change = (name, value) => send("values", { ...model.get("values"), [name]: value });
  const rows = model.get("controls").map((c) => (c.options ? choice : slider)(c));

  function choice(c) {
    const select = make("select", { oninput: () => change(c.name, select.value) }, ...c.options.map((o) => new Option(o)));
    select.dataset.name = c.name;
    return { row: make("label", { className: "rollcalc-row" }, make("span", {}, c.label), select),
             show: () => { select.value = model.get("values")[c.name]; } };
  }

  function slider(c) {
    const name = make("span", {}), range = make("input", { type: "range", min: c.low, max: c.high, step: c.step });
    const number = make("input", { type: "text", inputMode: "decimal", className: "rollcalc-number", autocomplete: "off", spellcheck: false }), scale = () => c.scales[model.get("units")];
    range.dataset.name = number.dataset.name = c.name;
    range.oninput = () => change(c.name, range.valueAsNumber);
    number.oninput = () => change(c.name, number.value === "" ? null : number.value);
    number.onkeydown = (event) => { // a step up or down, as a number field does
      const way = { ArrowUp: 1, ArrowDown: -1 }[event.key], value = model.get("values")[c.name];
      if (!way || typeof value !== "number") return;
      event.preventDefault();
      const { factor, low, high, step } = scale(), next = Math.min(high, Math.max(low, value / factor + way * step));
      number.value = `${+next.toFixed(6)}`;
      change(c.name, next * factor);
    };
    const show = () => {
      const value = model.get("values")[c.name], { unit, factor, decimals } = scale();
      name.textContent = c.label + (unit && ` (${unit})`);
      number.ariaLabel = `${name.textContent}, exact value`;
      if (typeof value !== "number") return; // the field was emptied: leave it to the one who types
      const round = (value / factor).toFixed(decimals), words = factor === 1 && +round !== value ? `${+value.toFixed(6)}` : round;
      Object.assign(range, { value, ariaValueText: `${words} ${unit}`.trim() });
      if (number !== document.activeElement) number.value = words;
    };
    return { row: make("div", { className: "rollcalc-row" }, make("label", {}, name, range), number), show };
  }

  const units = make("select", { className: "rollcalc-units", oninput: () => send("units", units.value) }, new Option("mm"), new Option("inch"));
  const reset = make("button", { className: "rollcalc-reset", type: "button", onclick: () => send("values", model.get("start")) }, "Reset");
  const foot = make("div", { className: "rollcalc-foot" }, ...(model.get("has_units") ? [make("label", {}, "Lengths in ", units)] : []), reset);
  const picture = make("div", { className: "rollcalc-picture" }), sentence = make("p", { className: "rollcalc-sentence", ariaLive: "polite" });
  const root = make("div", { className: "rollcalc-panel", onkeydown: (event) => event.stopPropagation() },
    make("div", { className: "rollcalc-controls" }, ...rows.map((r) => r.row), foot), make("div", { className: "rollcalc-result" }, picture, sentence));
  // keys typed here belong to the inputs, not to the notebook; older front ends look at the input itself
  root.querySelectorAll("input, select, button").forEach((e) => { e.dataset.lmSuppressShortcuts = "true"; });

  const inputs = () => { units.value = model.get("units"); rows.forEach((r) => r.show()); };
  const drawn = () => {
    picture.innerHTML = model.get("svg");
    const box = picture.firstChild?.viewBox.baseVal;
    if (box) picture.style.aspectRatio = box.width / box.height; // a picture taken away leaves its room
  };
  const said = () => {
    sentence.textContent = model.get("sentence");
    sentence.classList.toggle("rollcalc-problem", model.get("problem"));
  };
  const late = () => {
    if (model.get("answered") >= model.get("asked")) return;
    root.classList.add("rollcalc-late");
    sentence.textContent = LATE;
    sentence.classList.add("rollcalc-problem");
  };
  const answered = () => {
    clearTimeout(waiting);
    waiting = model.get("answered") < model.get("asked") ? setTimeout(late, PATIENCE) : undefined;
    if (waiting) return;
    root.classList.remove("rollcalc-late");
    said();
  };
  const listen = { answered, values: inputs, units: inputs, svg: drawn, sentence: said, problem: said };
  Object.entries(listen).forEach(([name, show]) => { show(); model.on(`change:${name}`, show); });
  el.append(root);
}

export default { render };
