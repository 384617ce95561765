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
    const number = make("input", { type: "number" });
    range.dataset.name = number.dataset.name = c.name;
    const scale = () => c.scales[model.get("units")];
    const words = (mm) => (mm / scale().factor).toFixed(scale().decimals);
    range.oninput = () => change(c.name, range.valueAsNumber);
    number.oninput = () => change(c.name, number.value === "" ? null : number.valueAsNumber * scale().factor);
    number.onchange = () => show();
    const show = () => {
      const value = model.get("values")[c.name], { unit, low, high, step } = scale();
      name.textContent = c.label + (unit && ` (${unit})`);
      number.ariaLabel = `${name.textContent}, exact value`;
      Object.assign(number, { min: low, max: high, step });
      if (typeof value !== "number") return;
      range.value = value;
      range.ariaValueText = `${words(value)} ${unit}`.trim();
      if (number !== document.activeElement) number.value = words(value);
    };
    return { row: make("div", { className: "rollcalc-row" }, make("label", {}, name, range), number), show };
  }

  const units = make("select", { className: "rollcalc-units", oninput: () => send("units", units.value) }, new Option("mm"), new Option("inch"));
  const reset = make("button", { className: "rollcalc-reset", type: "button", textContent: "Reset", onclick: () => send("values", model.get("start")) });
  const foot = make("div", { className: "rollcalc-foot" }, ...(model.get("has_units") ? [make("label", {}, "Lengths in ", units)] : []), reset);
  const picture = make("div", { className: "rollcalc-picture" }), sentence = make("p", { className: "rollcalc-sentence", ariaLive: "polite" });
  const root = make("div", { className: "rollcalc-panel" },
    make("div", { className: "rollcalc-controls" }, ...rows.map((r) => r.row), foot), make("div", { className: "rollcalc-result" }, picture, sentence));
  root.dataset.lmSuppressShortcuts = "true"; // keys typed here belong to the inputs, not to the notebook
  root.onkeydown = (event) => event.stopPropagation();

  const refresh = {
    "change:values change:units": () => { units.value = model.get("units"); rows.forEach((r) => r.show()); },
    "change:svg": () => { picture.innerHTML = model.get("svg"); },
    "change:sentence": () => { sentence.textContent = model.get("sentence"); },
    "change:problem": () => { sentence.classList.toggle("rollcalc-problem", model.get("problem")); },
  };
  for (const [events, show] of Object.entries(refresh)) { show(); events.split(" ").forEach((event) => model.on(event, show)); }
  el.append(root);
  return () => Object.entries(refresh).forEach(([events, show]) => events.split(" ").forEach((event) => model.off(event, show)));
}

export default { render };
