// The questions as controls: each tells what it was understood as, and what is wrong with it.

const MOST_BUTTONS = 6; // choices that stand side by side; more are in a list to open
const SIDE_BY_SIDE = ["one of", "graded", "yes or no"];

class Field {
  // `app` is what declare-view.js makes: it takes what is answered, taken back or not known.
  constructor(fact, app) {
    Object.assign(this, { fact, app, id: `q-${fact.path}` });
    this.echo = element("p", { class: "echo", id: `${this.id}-echo` });
    this.problem = element("p", { class: "problem", id: `${this.id}-problem`, role: "alert" });
    // What many questions have alike is told apart by its name.
    const named = (text) => ({ "aria-label": `${text}: ${fact.label}` });
    const [back, doubt] = ["Take this answer back", "I cannot tell now"];
    this.back = element("button", { type: "button", class: "small", ...named(back) }, back);
    this.doubt = element("input", { type: "checkbox", ...named(doubt) });
    this.node = this.made();
    this.back.addEventListener("click", () => {
      app.takeBack(fact);
      this.focus();
    });
    this.doubt.addEventListener("change", () => app.unsure(fact, this.doubt.checked));
  }

  made() {
    const { fact, id } = this;
    const grouped = fact.kind === "several of" || this.buttons();
    const asked = [fact.ask || fact.label];
    if (fact.ask) asked.push(" ", element("span", { class: "name" }, `(${fact.label})`));
    const head = grouped
      ? element("legend", {}, ...asked)
      : element("label", { for: `${id}-in` }, ...asked);
    const described = `${id}-echo ${id}-problem${fact.caution ? ` ${id}-caution` : ""}`;
    const control = element("div", { class: "control" }, ...this.controls(described));
    const doubt = element(
      "label", { class: "doubt" }, this.doubt, element("span", {}, "I cannot tell now"),
    );
    const attributes = { class: "question", id, tabindex: "-1", hidden: true };
    if (grouped) attributes["aria-describedby"] = described;
    return element(
      grouped ? "fieldset" : "div", attributes, head, this.caution(), control, this.echo,
      this.problem, this.how(), element("div", { class: "after" }, this.back, doubt),
    );
  }

  buttons() {
    const { kind, choices } = this.fact;
    return SIDE_BY_SIDE.includes(kind) && (choices ?? []).length <= MOST_BUTTONS;
  }

  caution() {
    const { caution } = this.fact;
    return caution ? cautionLine(caution, `${this.id}-caution`) : null;
  }

  how() {
    const { how, takes } = this.fact;
    if (!how) return null;
    const time = takes ? ` (${timeText(takes)})` : "";
    return element(
      "details", {}, element("summary", {}, `How to find out${time}`), element("p", {}, how),
    );
  }

  controls(described) {
    const { fact, id } = this;
    if (fact.kind === "several of") return this.boxes();
    if (this.buttons()) return this.radios();
    const common = { id: `${id}-in`, "aria-describedby": described };
    if (fact.choices) return [this.list(common)];
    this.input = element("input", {
      ...common, type: "text", autocomplete: "off", spellcheck: "false",
      placeholder: placeholderOf(fact),
    });
    this.input.addEventListener("input", () => this.told(false));
    this.input.addEventListener("change", () => this.told(true));
    if (fact.kind !== "number" || fact.whole) return [this.input];
    this.unit = element("select", { "aria-label": `Unit: ${fact.label}` });
    this.unit.addEventListener("change", () => {
      if (this.input.value.trim()) this.told(true);
    });
    this.offerUnits();
    return [this.input, this.unit];
  }

  offerUnits() {
    if (!this.unit) return;
    // Keys for a decimal number have no stroke for the fractions of an inch.
    const signed = !this.fact.low || this.fact.low.startsWith("-");
    this.input.inputMode = this.app.kept.system === "imperial" || signed ? "text" : "decimal";
    const units = offeredUnits(this.fact, this.app.form.units, this.app.kept.system);
    fill(this.unit, units.map((unit) => element("option", { value: unit }, unit)));
    this.unit.hidden = units.length < 2 && units[0] === "";
  }

  list(common) {
    const empty = element("option", { value: "" }, "–");
    const offered = this.fact.choices.map((one) =>
      element("option", { value: one[0] }, spokenOf(one)));
    this.select = element("select", common, empty, ...offered);
    this.select.addEventListener("change", () => this.told(true));
    return [this.select];
  }

  choice(type, value, text) {
    const input = element("input", { type, name: this.id, value });
    input.addEventListener("change", () => this.ticked(input));
    this.inputs = [...(this.inputs ?? []), input];
    return element("label", { class: "choice" }, input, element("span", {}, text));
  }

  radios() {
    const { kind, choices } = this.fact;
    const offered = kind === "yes or no" ? [["yes", "Yes"], ["no", "No"]] : choices;
    return offered.map((one) => this.choice("radio", one[0], spokenOf(one)));
  }

  boxes() {
    const offered = this.fact.choices.map((one) => this.choice("checkbox", one[0], spokenOf(one)));
    return [...offered, this.choice("checkbox", "none", "None of these")];
  }

  // "None of these" and the others take each other away.
  ticked(input) {
    if (input.type === "checkbox" && input.checked) {
      for (const other of this.inputs) {
        if ((other.value === "none") !== (input.value === "none")) other.checked = false;
      }
    }
    this.told(true);
  }

  // What is typed or chosen, as a declaration would say it; nothing if nothing is.
  typed() {
    if (this.inputs) {
      const chosen = this.inputs.filter((one) => one.checked).map((one) => one.value);
      return chosen.join(", ");
    }
    if (this.select) return this.select.value;
    const said = this.input.value.trim();
    const typed = this.unit ? withDecimalPoint(said) : said;
    const whole = !typed || !this.unit || /[^\d\s.,/+\-−¼½¾⅛⅜⅝⅞]/.test(typed);
    return whole ? typed : `${typed} ${this.unit.value}`.trim();
  }

  // A problem is not shown while somebody is still typing.
  told(finished) {
    const problem = this.app.answer(this.fact, this.typed());
    if (problem === undefined || finished || this.problem.textContent) this.complain(problem ?? "");
  }

  complain(text) {
    this.problem.textContent = quotedWords(text);
    (this.input ?? this.select)?.setAttribute("aria-invalid", String(text !== ""));
  }

  // Shows what the declaration says, unless somebody is just typing it.
  show(given, unsure, late) {
    if (given?.problem) this.complain(given.problem);
    else if (late) this.complain("This date lies after the day of the event.");
    else if (given) this.complain("");
    this.back.hidden = !given;
    this.doubt.checked = unsure;
    this.echo.textContent = given && !given.problem ? this.echoed(given) : "";
    if (!(this.input && document.activeElement === this.input)) this.set(given);
  }

  set(given) {
    const { plain } = given ?? {};
    const wrong = this.app.kept.typed[this.fact.path];
    if (this.inputs) {
      const words = chosenWords(this.fact.kind, plain);
      for (const one of this.inputs) one.checked = words.includes(one.value);
    } else if (this.select) {
      this.select.value = plain ?? "";
    } else if (given) {
      this.write(given.written);
    } else {
      this.input.value = wrong ?? ""; // what cannot be read stays, to be mended
    }
  }

  write(written) {
    const [, number, unit] = (this.unit && written.match(/^(.*?\d)\s*(32nds|[^\d\s.,/].*)$/)) ?? [];
    if (number) {
      if (![...this.unit.options].some((one) => one.value === unit)) {
        this.unit.append(element("option", { value: unit }, unit));
      }
      [this.input.value, this.unit.value] = [number, unit];
    } else {
      this.input.value = this.fact.kind === "text" ? unquoted(written) : written;
    }
  }

  // How the answer was understood, where that is not plain from what is typed.
  echoed({ plain }) {
    const { fact, app } = this;
    const again = fact.again ? "Look at it again on the day." : "";
    if (Array.isArray(plain) && fact.kind !== "several of") return `${longForm(plain)}. ${again}`;
    if (fact.kind !== "number" || fact.whole) return again;
    const [first] = offeredUnits(fact, app.form.units, app.kept.system);
    const typedIn = this.unit.value;
    const others = [...new Set([first, fact.unit])].filter((unit) => unit !== typedIn);
    const said = others.map((unit) => showAmount(plain, unit, app.form.units, fact.difference));
    return `${said.length ? `That is ${said.join(", ")}. ` : ""}${again}`;
  }

  focus() {
    (this.input ?? this.select ?? this.inputs?.find((one) => one.checked) ?? this.inputs?.[0])
      ?.focus();
  }
}

// Keys for numbers have a comma in many countries; three digits after it may be thousands.
function withDecimalPoint(typed) {
  return typed.replace(/^([-−]?\d+),(\d{1,2})$/, "$1.$2");
}

function spokenOf([word, spoken]) {
  return spoken || word.replaceAll("-", " ");
}

function placeholderOf({ kind }) {
  if (kind === "week code") return "four digits, such as 2319";
  return kind.includes("date") ? "17 Apr 2023, Apr 2023, 2023" : null;
}

function chosenWords(kind, plain) {
  if (plain === undefined) return [];
  if (kind === "yes or no") return [plain ? "yes" : "no"];
  if (kind === "several of") return plain.length ? plain : ["none"];
  return [plain];
}

// Messages quote what is written as terminals show it.
function quotedWords(message) {
  return message.replace(/`([^`]*)`/g, "“$1”");
}

function unquoted(written) {
  return written.replace(/^"(.*)"$/s, "$1");
}

// The value of a fact in words, as it was written where it is a number.
function valueText(fact, { plain, written }) {
  if (fact.kind === "yes or no") return plain ? "yes" : "no";
  if (fact.kind === "several of" && !plain.length) return "none";
  if (fact.choices) {
    const spoken = (word) => spokenOf(fact.choices.find(([one]) => one === word) ?? [word]);
    return listed([plain].flat().map((word) => `“${spoken(word)}”`));
  }
  return Array.isArray(plain) ? longForm(plain) : written;
}
