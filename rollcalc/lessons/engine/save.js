// A file name, a few choices and one button for each kind of file. Python writes the file, or sends it back to be downloaded.
const make = (tag, attributes, ...children) => {
  const element = Object.assign(document.createElement(tag), attributes);
  element.append(...children);
  return element;
};

function render({ model, el }) {
  const name = make("input", { type: "text", value: model.get("name"), spellcheck: false, autocomplete: "off" });
  const select = (options, value) => make("select", {}, ...options.map((o) => new Option(o, o, false, o === value)));
  const place = select(model.get("places"), model.get("place")), paper = select(model.get("papers"), model.get("paper"));
  const replace = make("input", { type: "checkbox" });
  const row = (words, input) => make("label", { className: "rollcalc-row" }, make("span", {}, words), input);
  const sentence = make("p", { className: "rollcalc-sentence", ariaLive: "polite" });
  const link = make("a", { className: "rollcalc-download" });

  const say = (words, problem) => {
    sentence.textContent = words;
    sentence.classList.toggle("rollcalc-problem", problem);
  };
  const ask = (format) => {
    say(`Writing the ${format.toUpperCase()} …`, false);
    forget();
    model.send({ format, name: name.value, place: place.value, paper: paper.value, replace: replace.checked });
  };
  const buttons = model.get("formats").map((format) =>
    make("button", { type: "button", onclick: () => ask(format) }, `Save ${format.toUpperCase()}`));
  const foot = make("div", { className: "rollcalc-foot" }, ...buttons);
  const root = make("div", { className: "rollcalc-panel rollcalc-save", role: "group", ariaLabel: `Save ${model.get("name")}`, onkeydown: (event) => event.stopPropagation() },
    make("div", { className: "rollcalc-controls" }, row("File name", name), row("Save to", place), row("Paper of the PDF", paper),
      make("label", { className: "rollcalc-tick" }, replace, make("span", {}, "Replace a file of that name")), foot),
    make("div", { className: "rollcalc-result" }, sentence, link));
  // keys typed here belong to the inputs, not to the notebook; older front ends look at the input itself
  root.querySelectorAll("input, select, button").forEach((e) => { e.dataset.lmSuppressShortcuts = "true"; });

  const forget = () => { if (link.href) URL.revokeObjectURL(link.href); link.removeAttribute("href"); };
  const answered = (answer, buffers) => {
    say(answer.sentence, answer.problem);
    if (!buffers?.length) return;
    const file = new Blob([buffers[0]], { type: answer.type });
    Object.assign(link, { href: URL.createObjectURL(file), download: answer.file, textContent: `Download ${answer.file} again` });
    link.click();
  };
  say(model.get("sentence"), false);
  model.on("msg:custom", answered);
  el.append(root);
  return () => { model.off("msg:custom", answered); forget(); };
}

export default { render };
