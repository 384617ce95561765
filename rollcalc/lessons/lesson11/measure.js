// A form of the browser's own inputs, a drawing of the field in hand, and a button. Python reads, draws and writes.
const make = (tag, attributes, ...children) => {
  const element = Object.assign(document.createElement(tag), attributes);
  element.append(...children);
  return element;
};

const PATIENCE = 1500; // ms
const LATE = "No answer yet: the drawing is of an earlier state. If something else is running, wait. "
  + "If the kernel was restarted, run the cell again.";
const SILENT = "No answer, so nothing may have been written. If something else is running, wait. "
  + "If the kernel was restarted, run the cell again.";
let forms = 0;

function render({ model, el }) {
  const form = `rollcalc-measure-${forms += 1}`;
  let waiting, writing;
  const send = (name, value) => {
    model.set(name, value);
    model.set("asked", model.get("asked") + 1);
    model.save_changes();
    clearTimeout(waiting);
    waiting = setTimeout(late, PATIENCE);
  };
  const change = (name, value) => send("values", { ...model.get("values"), [name]: value });
  const look = (name) => { if (model.get("focus") !== name) send("focus", name); };

  const row = (f) => {
    const id = `${form}-${f.name}`, value = model.get("values")[f.name] ?? "";
    const name = make("span", {});
    const input = f.options.length
      ? make("select", { oninput: () => change(f.name, input.value) }, ...f.options.map((o) => new Option(o, o, false, o === value)))
      : make("input", { type: "text", value, autocomplete: "off", spellcheck: false, inputMode: f.unit === "text" ? "text" : "decimal",
                        oninput: () => change(f.name, input.value) });
    input.dataset.name = f.name;
    input.onfocus = () => {
      look(f.name);
      requestAnimationFrame(() => { // its words have just opened: bring them into sight, and leave the page where it is
        const hidden = element.getBoundingClientRect().bottom - controls.getBoundingClientRect().bottom;
        if (hidden > 0) controls.scrollTop += hidden + 8;
      });
    };
    const how = make("p", { className: "rollcalc-how", id: `${id}-how` }, f.how), note = make("p", { className: "rollcalc-note", id: `${id}-note` });
    input.setAttribute("aria-describedby", `${id}-note ${id}-how`);
    const element = make("div", { className: "rollcalc-row" }, make("label", {}, name, input), note, how);
    const show = () => {
      const values = model.get("values"), kind = values.kind === fields[0].options[0] ? "pinch" : "pyramid", unit = model.get("units") === "inch" ? "in" : "mm";
      element.hidden = (f.kind && f.kind !== kind) || (f.when && values[f.when[0]] !== f.when[1]);
      const words = { mm: unit, lengths: unit, deg: "degrees", N: "N", turns: "" }[f.unit] ?? "";
      name.textContent = f.label + (words && ` (${words})`);
      const wrong = model.get("problems")[f.name];
      note.textContent = wrong ?? model.get("notes")[f.name] ?? "";
      note.classList.toggle("rollcalc-problem", Boolean(wrong));
      input.ariaInvalid = wrong ? "true" : "false";
      if (input !== document.activeElement && input.value !== (values[f.name] ?? "")) input.value = values[f.name] ?? "";
    };
    return { f, element, show };
  };
  const fields = model.get("fields"), rows = fields.map(row);
  const groups = [...new Set(fields.map((f) => f.group))].map((group) =>
    make("fieldset", {}, make("legend", {}, group), ...rows.filter((r) => r.f.group === group).map((r) => r.element)));
  const units = make("select", { oninput: () => send("units", units.value) }, new Option("mm"), new Option("inch"));
  units.value = model.get("units");

  const write = make("button", { type: "button", onclick: () => press("disk") }, `Write ${model.get("file_name")}`);
  const download = make("button", { type: "button", onclick: () => press("browser") }, "Download it instead");
  const said = make("p", { className: "rollcalc-said", ariaLive: "polite" }), link = make("a", { className: "rollcalc-download" });
  const press = (place) => {
    say("Writing …", false);
    forget();
    clearTimeout(writing);
    writing = setTimeout(() => say(SILENT, true), 2 * PATIENCE);
    model.send({ place });
  };
  const say = (words, wrong) => {
    said.textContent = words;
    said.classList.toggle("rollcalc-problem", wrong);
  };
  const forget = () => { if (link.href) URL.revokeObjectURL(link.href); link.removeAttribute("href"); };
  const done = (answer, buffers) => {
    clearTimeout(writing);
    say(answer.sentence, answer.problem);
    if (!buffers?.length) return;
    Object.assign(link, { href: URL.createObjectURL(new Blob([buffers[0]], { type: "text/plain" })), download: answer.file, textContent: `Download ${answer.file} again` });
    link.click();
  };

  const picture = make("div", { className: "rollcalc-picture" }), sentence = make("p", { className: "rollcalc-sentence", ariaLive: "polite" });
  const errors = make("div", { className: "rollcalc-errors", tabIndex: 0, role: "region", ariaLabel: "Table of errors" }); // it may scroll sideways
  const table = make("details", {}, make("summary", {}, "What an error of a reading does to a radius"), errors);
  const controls = make("div", { className: "rollcalc-controls" },
    make("div", { className: "rollcalc-row" }, make("label", {}, make("span", {}, "Numbers without a unit are in"), units)),
    ...groups, make("div", { className: "rollcalc-foot" }, write, download));
  const both = make("div", { className: "rollcalc-both" }, controls, make("div", { className: "rollcalc-result" }, picture, sentence, said, link));
  const root = make("div", { className: "rollcalc-panel rollcalc-measure", role: "group", ariaLabel: "Measure your machine", onkeydown: (event) => event.stopPropagation() }, both, table);
  // keys typed here belong to the inputs, not to the notebook; older front ends look at the input itself
  root.querySelectorAll("input, select, button").forEach((e) => { e.dataset.lmSuppressShortcuts = "true"; });

  const inputs = () => rows.forEach((r) => r.show());
  const drawn = () => {
    picture.innerHTML = model.get("svg");
    const box = picture.firstChild?.viewBox.baseVal;
    if (box) picture.style.aspectRatio = box.width / box.height;
  };
  const told = () => {
    sentence.textContent = model.get("sentence");
    sentence.classList.toggle("rollcalc-problem", model.get("problem"));
  };
  const listed = () => { errors.innerHTML = model.get("errors"); table.hidden = !model.get("errors"); };
  const late = () => {
    if (model.get("answered") >= model.get("asked")) return;
    root.classList.add("rollcalc-late");
    sentence.textContent = LATE;
    sentence.classList.add("rollcalc-problem");
  };
  const answered = () => {
    if (model.get("answered") < model.get("asked")) return;
    clearTimeout(waiting);
    root.classList.remove("rollcalc-late");
    told();
  };
  const listen = { answered, values: inputs, units: inputs, notes: inputs, problems: inputs, svg: drawn, sentence: told, problem: told, errors: listed };
  Object.entries(listen).forEach(([name, show]) => { show(); model.on(`change:${name}`, show); });
  say(model.get("said"), false);
  model.on("msg:custom", done);
  el.append(root);
  return () => { model.off("msg:custom", done); forget(); };
}

export default { render };
