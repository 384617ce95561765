// A form for a job, what its plan says, a row for each pass with fields for what was measured, and buttons for the card.
// Python reads, reckons and writes; the browser sends what was typed, and draws what comes back.
const make = (tag, attributes, ...children) => {
  const element = Object.assign(document.createElement(tag), attributes);
  element.append(...children);
  return element;
};

const PATIENCE = 3000, PAUSE = 250; // ms
const LATE = "No answer yet: what is shown is of an earlier setting. If something else is running, wait. "
  + "If the kernel was restarted, run the cell again.";
const SILENT = "No answer, so nothing may have been written. If something else is running, wait. "
  + "If the kernel was restarted, run the cell again.";
const MEASURED = [["rise", "rise measured"], ["turns", "turns really dialled"], ["chord", "over a chord of"]];
let panels = 0;

function render({ model, el }) {
  const panel = `rollcalc-job-${panels += 1}`;
  let waiting, writing, pausing, editing;
  const ask = () => {
    clearTimeout(pausing);
    editing?.(); // an answer to what stood there before may have come in between
    pausing = editing = undefined;
    model.set("asked", model.get("asked") + 1);
    model.save_changes();
    waiting ??= setTimeout(late, PATIENCE);
  };
  // a field is sent when a pause follows, or when it is left: a number half typed is no number
  const soon = () => { clearTimeout(pausing); pausing = setTimeout(ask, PAUSE); };
  const set = (name, value, send) => { model.set(name, value); send(); };
  const piece = () => model.get("piece"), page = () => model.get("page"), inch = () => model.get("units") === "inch";
  const unit = () => (inch() ? "in" : "mm");
  const change = (name, value, send) =>
    set("values", { ...model.get("values"), [piece()]: { ...model.get("values")[piece()], [name]: value } }, send);
  const measure = (number, name, value, send) => {
    const rows = [...(model.get("readings")[piece()] ?? [])];
    while (rows.length <= number) rows.push({});
    rows[number] = { ...rows[number], [name]: value };
    set("readings", { ...model.get("readings"), [piece()]: rows }, send);
  };
  const text = (store) => {
    const input = make("input", { type: "text", autocomplete: "off", spellcheck: false, inputMode: "text" });
    input.oninput = () => {
      editing = () => store(input.value, () => {});
      store(input.value, soon);
    };
    input.onchange = () => { if (pausing) ask(); };
    input.dataset.lmSuppressShortcuts = "true";
    return input;
  };
  const choose = (options, store) => {
    const select = make("select", {}, ...options.map((o) => new Option(o)));
    select.oninput = () => store(select.value, ask);
    return select;
  };
  const keep = (input, value) => { // never over what someone is typing
    if (input.value !== value && (input !== document.activeElement || input.value === input.shown)) input.value = value;
    input.shown = value;
  };

  // the form: the fields of every piece are there, those of one are shown
  const pieces = choose(Object.keys(model.get("forms")), (value) => set("piece", value, ask));
  const units = choose(["mm", "inch"], (value) => set("units", value, ask));
  const field = (of, f) => {
    const id = `${panel}-${of.replaceAll(" ", "-")}-${f.name}`, name = make("span", {});
    const input = f.options.length ? choose(f.options, (v, send) => change(f.name, v, send)) : text((v, send) => change(f.name, v, send));
    const fault = make("p", { className: "rollcalc-fault", id });
    input.dataset.name = f.name;
    input.setAttribute("aria-describedby", id);
    const row = make("div", { className: "rollcalc-row" }, make("label", {}, name, input), fault);
    const show = () => {
      const values = model.get("values")[of], wrong = page().faults[f.name];
      row.hidden = of !== piece() || (f.seams.length > 0 && !f.seams.includes(values.seam));
      name.textContent = f.label + (f.options.length ? "" : ` (${unit()})`);
      keep(input, values[f.name] ?? "");
      fault.textContent = of === piece() && wrong ? wrong : "";
      input.ariaInvalid = fault.textContent ? "true" : "false";
    };
    return { row, show };
  };
  const fields = Object.entries(model.get("forms")).flatMap(([of, list]) => list.map((f) => field(of, f)));
  const reset = make("button", { type: "button", onclick: () => set("values", { ...model.get("values"), [piece()]: model.get("start")[piece()] }, ask) }, "Reset this form");
  const machine = make("p", { className: "rollcalc-machine" });
  const controls = make("div", { className: "rollcalc-controls" },
    make("div", { className: "rollcalc-row" }, make("label", {}, make("span", {}, "What do you make?"), pieces)),
    ...fields.map((f) => f.row), make("div", { className: "rollcalc-foot" }, make("label", {}, "Bare numbers are in ", units), reset), machine);

  // what the plan says
  const html = (name) => make("div", { className: `rollcalc-${name}` });
  const verdict = Object.assign(html("said"), { ariaLive: "polite" }), checks = Object.assign(html("checks"), { role: "region", ariaLabel: "Checks", tabIndex: 0 }), blank = html("blank"), notes = html("notes"), wrong = html("wrong"), before = html("before"), next = html("next");
  const sentence = make("p", { className: "rollcalc-sentence", ariaLive: "polite" });
  const fold = (words, open, ...inside) => make("details", { open }, make("summary", {}, words), ...inside);
  const section = (words, ...inside) => make("section", {}, make("h4", {}, words), ...inside);
  const result = make("div", { className: "rollcalc-result" }, verdict, sentence,
    section("Blank", blank));

  // the passes, and what was measured after each
  const how = make("p", {}), thead = make("thead", {}), tbody = make("tbody", {});
  const scroll = make("div", { className: "rollcalc-scroll", role: "region", ariaLabel: "Passes", tabIndex: 0 }, make("table", {}, thead, tbody));
  const reading_fault = make("p", { className: "rollcalc-fault", ariaLive: "polite", id: `${panel}-readings` });
  const clear = make("button", { type: "button", onclick: () => set("readings", { ...model.get("readings"), [piece()]: [] }, ask) }, "Clear what was measured");
  const picture = make("div", { className: "rollcalc-picture" }), caption = make("p", {});
  const rows = [];
  const row = (number) => {
    const inputs = MEASURED.map(([name]) => {
      const input = text((v, send) => measure(number, name, v, send));
      input.setAttribute("aria-describedby", reading_fault.id);
      input.dataset.name = `${name}-${number + 1}`;
      return input;
    });
    const cells = inputs.map((input) => make("td", {}, input)), line = make("tr", {});
    const show = (given) => {
      const { cells: words, input, turns } = given, learns = page().learns, typed = model.get("readings")[piece()]?.[number] ?? {};
      const said = words.map((word, place) => make(place ? "td" : "th", place ? {} : { scope: "row" }, word));
      const wanted = [...said.slice(0, -2), ...(learns ? cells : []), ...said.slice(-2)];
      [...line.children].filter((cell) => !cells.includes(cell)).forEach((cell) => cell.remove());
      if (!learns) cells.forEach((cell) => cell.remove());
      wanted.forEach((cell, place) => { if (line.children[place] !== cell) line.insertBefore(cell, line.children[place] ?? null); });
      inputs.forEach((box, place) => {
        const [name, label] = MEASURED[place];
        box.ariaLabel = `Pass ${number + 1}: ${label}${name === "turns" ? "" : ` (${unit()})`}`;
        box.hidden = !input;
        box.placeholder = { turns, chord: page().chord, rise: "" }[name];
        box.ariaInvalid = page().reading_faults[`${number}.${name}`] ? "true" : "false";
        keep(box, typed[name] ?? "");
      });
    };
    return { line, show };
  };
  const passes = section("Passes", how, scroll, reading_fault, make("div", { className: "rollcalc-after" }, next, make("div", { className: "rollcalc-belief" }, picture, caption)), clear);

  const crank = fold("Before you crank", true, before);

  // the card
  const name = make("input", { type: "text", value: "setup-card", spellcheck: false, autocomplete: "off" });
  const place = make("select", {}, ...model.get("places").map((o) => new Option(o, o, false, o === model.get("place"))));
  const paper = make("select", {}, ...model.get("papers").map((o) => new Option(o))), again = make("input", { type: "checkbox" });
  const said = make("p", { className: "rollcalc-saved", ariaLive: "polite" }), link = make("a", { className: "rollcalc-download" });
  const label = (words, input) => make("label", {}, make("span", {}, words), input);
  const say = (words, problem) => { said.textContent = words; said.classList.toggle("rollcalc-problem", problem); };
  const forget = () => { if (link.href) URL.revokeObjectURL(link.href); link.removeAttribute("href"); };
  const write = (format) => {
    say(`Writing the ${format.toUpperCase()} …`, false);
    forget();
    clearTimeout(writing);
    writing = setTimeout(() => say(SILENT, true), 4 * PATIENCE); // the first drawing of a card takes some seconds
    model.send({ format, name: name.value, place: place.value, paper: paper.value, replace: again.checked });
  };
  const done = (answer, buffers) => {
    clearTimeout(writing);
    say(answer.sentence, answer.problem);
    if (!buffers?.length) return;
    Object.assign(link, { href: URL.createObjectURL(new Blob([buffers[0]], { type: answer.type })), download: answer.file, textContent: `Download ${answer.file} again` });
    link.click();
  };
  const buttons = model.get("formats").map((format) => make("button", { type: "button", onclick: () => write(format) }, `Save the card as ${format.toUpperCase()}`));
  const card = section("Setup card", make("div", { className: "rollcalc-card" }, label("File name", name), label("Save to", place), label("Paper", paper),
    make("label", { className: "rollcalc-tick" }, again, make("span", {}, "Replace a file of that name"))), make("div", { className: "rollcalc-buttons" }, ...buttons), said, link);

  const whole = make("div", { className: "rollcalc-whole" }, crank, passes, fold("Every check: this job against its limit", true, checks), section("When it comes out wrong", wrong), fold("Everything else to know", false, notes), card);
  const root = make("div", { className: "rollcalc-panel rollcalc-job", role: "group", ariaLabel: "Your job", onkeydown: (event) => event.stopPropagation() }, controls, result, whole);
  // keys typed here belong to the inputs, not to the notebook; older front ends look at the input itself
  root.querySelectorAll("input, select, button, summary").forEach((e) => { e.dataset.lmSuppressShortcuts = "true"; });

  const typed = () => {
    pieces.value = piece();
    units.value = model.get("units");
    fields.forEach((f) => f.show());
    page().rows.forEach((given, number) => rows[number]?.show(given));
  };
  const shown = () => {
    const now = page();
    machine.textContent = now.machine;
    Object.entries({ verdict, checks, blank, notes, before, wrong }).forEach(([part, element]) => {
      if (element.was !== now[part]) element.innerHTML = element.was = now[part]; // said again only where it changed
    });
    result.classList.toggle("rollcalc-none", !now.verdict);
    whole.hidden = !now.verdict;
    passes.hidden = crank.hidden = !now.rows.length;
    how.textContent = now.measure;
    const head = [...now.head];
    if (now.learns) head.splice(-2, 0, ...MEASURED.map(([part, words]) => words + (part === "turns" ? "" : `, ${unit()}`)));
    thead.replaceChildren(make("tr", {}, ...head.map((words) => make("th", { scope: "col" }, words))));
    while (rows.length < now.rows.length) rows.push(row(rows.length));
    rows.forEach((r, number) => {
      if (number >= now.rows.length) r.line.remove();
      else if (tbody.children[number] !== r.line) tbody.insertBefore(r.line, tbody.children[number] ?? null);
    });
    reading_fault.textContent = Object.values(now.reading_faults)[0] ?? "";
    next.innerHTML = now.learnt;
    picture.innerHTML = now.svg;
    caption.textContent = now.caption;
    picture.hidden = !now.svg;
    clear.hidden = !(model.get("readings")[piece()] ?? []).length;
    typed();
    told();
  };
  const told = () => {
    sentence.textContent = page().sentence;
    sentence.classList.toggle("rollcalc-problem", Boolean(page().problem));
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
    told();
  };
  const listen = { answered, values: typed, readings: typed, units: typed, piece: typed, page: shown };
  shown();
  Object.entries(listen).forEach(([trait, show]) => model.on(`change:${trait}`, show));
  say(model.get("said"), false);
  model.on("msg:custom", done);
  el.append(root);
  return () => { clearTimeout(pausing); model.off("msg:custom", done); forget(); };
}

export default { render };
