// What a rider types of a tyre: an amount with its unit, a choice, a note; and the forms of them.

const TOO_SMALL = new Set(["cm", "in"]); // for an altitude

// What is wrong with what was typed; any other mistake is a programmer's.
function faultText(why) {
  if (!(why instanceof PressureFault)) throw why;
  return quotedWords(why.message);
}

// The day and the time of the clock, as a log has them.
function pressureClock(now) {
  const at = `${twoDigits(now.getHours())}:${twoDigits(now.getMinutes())}`;
  return { day: isoDay(dayToday(now)), at };
}

function pressureForm(legend, fields, action, work) {
  const form = element("form", { novalidate: true }, element("fieldset", {},
    element("legend", {}, legend), ...fields.map((one) => one.node),
    element("p", {}, element("button", {}, action))));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    work();
    form.querySelector("[aria-invalid=true]")?.focus();
  });
  return form;
}

function inputField(label, input) {
  return {
    node: element("p", {}, element("label", {}, `${label} `, input)),
    get value() { return input.value; },
    clear() { input.value = ""; },
  };
}

function chosenField(label, words) {
  const options = words.map((word) => element("option", { value: word }, word));
  return inputField(label, element("select", {}, ...options));
}

// The amounts typed in fields, by name; null where one is wrong, or the needed one is missing.
function amountsOf(fields, needed) {
  const read = fields.map((field) => [field.name, field.read(field.name === needed)]);
  const wrong = fields.some((field) => field.problem.textContent);
  return wrong ? null : Object.fromEntries(read);
}

// A number with its unit; what is wrong with it stands under it.
class AmountField {
  constructor(name, part, gauges, system) {
    Object.assign(this, { name, gauges, onChange: () => this.read() });
    const [id, { says, unit }] = [`${part}-${name}`, gauges.asked[name]];
    this.problem = element("p", { class: "problem", id: `${id}-problem`, role: "alert" });
    this.input = element("input", {
      id, type: "text", inputmode: unit === "psi" ? "decimal" : null, autocomplete: "off",
      "aria-describedby": `${id}-problem`,
    });
    const units = offeredUnits({ unit }, gauges.units, system).filter((one) => !TOO_SMALL.has(one));
    this.unit = element("select", { "aria-label": `Unit: ${says}` },
      ...units.map((one) => element("option", { value: one }, one)));
    for (const one of [this.input, this.unit]) {
      one.addEventListener("change", () => this.onChange());
    }
    const label = element("label", { for: id }, capitalized(says));
    const control = element("div", { class: "control" }, this.input, this.unit);
    this.node = element("div", { class: "question" }, label, control, this.problem);
  }

  // The amount; undefined if none is typed, or what is typed is wrong.
  read(needed = false) {
    const typed = withDecimalPoint(this.input.value.trim());
    this.tell(typed || !needed ? "" : "Write a number.");
    if (!typed) return undefined;
    try {
      const named = /[\p{L}°º˚℃℉]/u.test(typed);
      return this.gauges.read(this.name, named ? typed : `${typed} ${this.unit.value}`, "");
    } catch (why) {
      this.tell(faultText(why));
      return undefined;
    }
  }

  tell(problem) {
    this.problem.textContent = problem;
    this.input.setAttribute("aria-invalid", String(Boolean(problem)));
  }

  clear() {
    this.input.value = "";
    this.tell("");
  }
}
