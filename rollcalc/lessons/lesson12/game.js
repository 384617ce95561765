// A form of the browser's own inputs around a sheet that Python rolls. Every order has a number, so that it is done once.
const make = (tag, attributes, ...children) => {
  const element = Object.assign(document.createElement(tag), attributes);
  element.append(...children);
  return element;
};

const PATIENCE = 4000; // ms: at the end a whole game is worked out
const LATE = "No answer yet: the picture is of an earlier state. If something else is running, wait. "
  + "If the kernel was restarted, run the cell again.";

function render({ model, el }) {
  let waiting;
  const order = (what, given = null) => {
    model.set("order", { do: what, with: given });
    model.set("asked", model.get("asked") + 1);
    model.save_changes();
    buttons();
    clearTimeout(waiting);
    waiting = setTimeout(late, PATIENCE);
  };
  const field = (label, attributes, enter) => {
    const input = make("input", { type: "text", autocomplete: "off", spellcheck: false, ...attributes });
    input.onkeydown = (event) => { if (event.key === "Enter") enter(); };
    return { input, row: make("div", { className: "rollcalc-row" }, make("label", {}, make("span", {}, label), input)) };
  };
  const pending = () => model.get("answered") < model.get("asked");
  const rollIt = () => { if (!roll.disabled) order("roll", turns.input.value); };
  const takeIt = () => { if (!pending()) order("take", number.input.value); };
  const turns = field("Turns of both screws, from touch, such as 12 3/8", { inputMode: "text" }, rollIt);
  const number = field("Number of the sheet", { inputMode: "numeric" }, takeIt);
  const button = (words, onclick) => make("button", { type: "button", onclick }, words);
  const roll = button("Roll a pass", rollIt), off = button("Take it off", () => order("take off"));
  const take = button("Take this sheet", takeIt);
  const next = button("Next sheet", () => order("take", `${+model.get("number") + 1}`));
  const units = make("select", { oninput: () => order("units", units.value) }, new Option("mm"), new Option("inch"));
  const picture = make("div", { className: "rollcalc-picture" }), sentence = make("p", { className: "rollcalc-sentence", ariaLive: "polite" });
  const tables = make("div", { className: "rollcalc-tables", tabIndex: 0, role: "region", ariaLabel: "Passes" }); // it may scroll sideways
  const root = make("div", { className: "rollcalc-panel rollcalc-game", role: "group", ariaLabel: "Roll a sheet that hides its numbers", onkeydown: (event) => event.stopPropagation() },
    make("div", { className: "rollcalc-controls" },
      turns.row, make("div", { className: "rollcalc-foot" }, roll, off),
      number.row, make("div", { className: "rollcalc-foot" }, take, next),
      make("div", { className: "rollcalc-foot" }, make("label", {}, "Lengths in ", units))),
    make("div", { className: "rollcalc-result" }, picture, sentence, tables));
  // keys typed here belong to the inputs, not to the notebook; older front ends look at the input itself
  root.querySelectorAll("input, select, button").forEach((e) => { e.dataset.lmSuppressShortcuts = "true"; });

  const buttons = () => {
    roll.disabled = pending() || model.get("over");
    off.disabled = roll.disabled || !model.get("rolled");
    take.disabled = next.disabled = pending();
  };
  const numbered = () => { number.input.value = model.get("number"); };
  const drawn = () => {
    picture.innerHTML = model.get("svg");
    const box = picture.firstChild?.viewBox.baseVal;
    if (box) picture.style.aspectRatio = box.width / box.height;
  };
  const said = () => {
    sentence.textContent = model.get("sentence");
    sentence.classList.toggle("rollcalc-problem", model.get("problem"));
  };
  const listed = () => { tables.innerHTML = model.get("tables"); tables.hidden = !model.get("tables"); };
  const late = () => {
    if (!pending()) return;
    root.classList.add("rollcalc-late");
    sentence.textContent = LATE;
    sentence.classList.add("rollcalc-problem");
  };
  const answered = () => {
    if (pending()) return;
    clearTimeout(waiting);
    root.classList.remove("rollcalc-late");
    said();
    buttons();
  };
  const listen = { answered, over: buttons, rolled: buttons, number: numbered, svg: drawn, sentence: said, problem: said, tables: listed,
                   units: () => { units.value = model.get("units"); } };
  Object.entries(listen).forEach(([name, show]) => { show(); model.on(`change:${name}`, show); });
  buttons();
  el.append(root);
  return () => clearTimeout(waiting);
}

export default { render };
