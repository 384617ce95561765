// The browser's own inputs around a picture that Python draws. Lengths travel in mm, whatever is shown.
const make = (tag, attributes, ...children) => {
  const element = Object.assign(document.createElement(tag), attributes);
  element.append(...children);
  return element;
};

function render({ model, el }) {
  const send = (name, value) => { model.set(name, value); model.save_changes(); };
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
    const number = make("input", { type: "number" }), scale = () => c.scales[model.get("units")];
    range.dataset.name = number.dataset.name = c.name;
    range.oninput = () => change(c.name, range.valueAsNumber);
    number.oninput = () => change(c.name, number.value === "" ? null : number.valueAsNumber * scale().factor);
    const show = () => {
      const value = model.get("values")[c.name], { unit, factor, decimals, low, high, step } = scale();
      name.textContent = c.label + (unit && ` (${unit})`);
      Object.assign(number, { min: low, max: high, step, ariaLabel: `${name.textContent}, exact value` });
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
  const listen = { values: inputs, units: inputs, svg: drawn, sentence: said, problem: said };
  Object.entries(listen).forEach(([name, show]) => { show(); model.on(`change:${name}`, show); });
  el.append(root);
}

export default { render };
