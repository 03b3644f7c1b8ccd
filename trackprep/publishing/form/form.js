// The page: what is declared, and every view of what follows from it.

const VIEWS = ["declare", "answers", "work", "gate", "ahead", "pressures", "road", "keep", "rules"];
const YEAR = 365;
const VERDICTS = {
  "ready": ["met", "Ready to present"], "not-ready": ["not-met", "Not ready"],
  "incomplete": ["warning", "Incomplete"],
};

function byId(id) {
  return document.getElementById(id);
}

class App {
  constructor(form) {
    this.form = { ...form, facts: expandedFacts(form.facts) };
    this.facts = new Map(this.form.facts.map((fact) => [fact.path, fact]));
    this.rulesets = form.events.map((event) => new Ruleset(event.plain));
    this.keeper = new Keeper(form.name, (text) => { byId("storage").textContent = text; });
    this.kept = this.keeper.read();
    this.today = dayToday();
    [this.answers, this.lists] = [new Answers(this), new Lists(this)];
    [this.declaring, this.keeping] = [new Declaring(this), new Keeping(this)];
  }

  start() {
    this.kept.day ??= this.firstDay();
    this.declaring.build();
    this.listen();
    byId("app").hidden = false;
    this.worked();
    this.settingsShown();
    this.showView();
  }

  // Today, if the rules are for it; else the first day that they are for.
  firstDay() {
    const spans = this.form.events.map((event) => event.valid).filter(Boolean);
    const first = Math.max(...spans.map(([one]) => one), this.today);
    return spans.every(([, last]) => first <= last) ? first : this.today;
  }

  tell(text) {
    byId("told").textContent = text;
  }

  // ---- what is kept ----

  keep(changes, anew = false) {
    Object.assign(this.kept, changes);
    this.keeper.write(this.kept);
    if (anew) this.worked();
  }

  setText(text) {
    this.tell("");
    this.keep({ text }, true);
  }

  // ---- what follows from it ----

  worked() {
    const { kept, form } = this;
    this.read = readDeclaration(kept.text, form);
    const values = plainValues(this.read);
    this.sittings = form.events.map((event, place) =>
      sittingOf(event, this.rulesets[place], values, kept.day));
    this.open = openQuestions(form, this.sittings, new Set(this.read.notKnown));
    this.showVerdicts();
    this.declaring.show();
    this.showCurrent();
  }

  // ---- views ----

  showVerdicts() {
    const lines = this.sittings.map((sitting) => this.verdict(sitting));
    const said = lines.map((line) => line.textContent).join("\n");
    if (this.said !== said) fill(byId("verdicts"), lines);
    this.said = said;
    byId("validity").textContent = this.sittings.map(outsideText).join(" ");
    // What gets the focus does not hide behind the bar.
    document.documentElement.style.scrollPaddingTop = `${byId("bar").offsetHeight + 8}px`;
  }

  // In a line, for a bar that stays in sight.
  verdict(sitting) {
    const { event, checked } = sitting;
    const [tone, words] = VERDICTS[checked.verdict];
    const { notMet, open } = numbersOfAnswers(sitting);
    const more = [notMet && `${notMet} not met`, open && `${open} unsettled`].filter(Boolean);
    const title = this.sittings.length > 1 ? `${event.title}: ` : "";
    return element(
      "p", { "data-event": event.name, "data-verdict": checked.verdict },
      title, element("a", { href: "#answers" }, element("strong", { class: tone },
        words)), more.length ? `: ${more.join(", ")}.` : ".",
      outsideText(sitting) && element("strong", { class: "warning" }, " Not for this day."),
    );
  }

  // The view that the address names; a question's own address leads to it.
  showView() {
    const hash = hashOf(location);
    if (hash === "start" && this.view) return byId(this.view).focus();
    const question = hash.startsWith("q-") ? hash.slice(2) : null;
    const rule = !question && !VIEWS.includes(hash) && byId(hash)?.closest("#rules");
    const view = question ? "declare" : rule ? "rules" : VIEWS.includes(hash) ? hash : "declare";
    for (const name of VIEWS) byId(name).hidden = name !== view;
    for (const link of byId("parts").querySelectorAll("a")) {
      if (link.hash === `#${view}`) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    this.view = view;
    this.wanted = question;
    this.showCurrent();
    if (question) {
      this.declaring.show();
      this.declaring.fields.get(question)?.focus();
    } else if (hash) {
      byId(rule ? hash : view).focus({ preventScroll: view === hash });
    }
  }

  showCurrent() {
    const place = this.view && byId(this.view).querySelector(".fill");
    const { lists, sittings } = this;
    switch (this.view) {
      case "answers":
        fill(place, ...sittings.map((sitting) => element(
          "div", { "data-event": sitting.event.name },
          sittings.length > 1 ? element("h2", {}, sitting.event.title) : null,
          element("p", {}, verdictText(sitting)),
          outsideText(sitting) && labelled("Note", outsideText(sitting), "warning"),
          ...this.answers.of(sitting),
        )));
        break;
      case "work":
        fill(place, ...lists.work(this.worklist()));
        break;
      case "gate":
        fill(place, ...lists.gate(this.worklist()));
        break;
      case "road":
        fill(place, ...lists.road(this.worklist()));
        break;
      case "ahead":
        this.showAhead(place);
        break;
      case "keep":
        this.keeping.show();
        break;
      case "pressures":
        this.showPressures(place);
    }
  }

  worklist() {
    const { sittings, kept, today, form } = this;
    return workList(sittings, { arrival: kept.arrival, today, words: form.words });
  }

  showAhead(place) {
    const first = dayOf(byId("ahead-from").value);
    const last = dayOf(byId("ahead-to").value);
    if (!(first <= last)) {
      fill(place, element("p", {}, "Choose two days, the earlier one first."));
    } else if (last - first > 3 * YEAR) {
      fill(place, element("p", {}, "Choose three years at most."));
    } else {
      fill(place, ...this.lists.ahead(lookAhead(this.sittings, first, last)));
    }
  }

  showPressures(place) {
    if (place.childElementCount && this.pressuresFor === this.kept.system) return;
    this.pressuresFor = this.kept.system;
    pressureSection(place, {
      text: this.kept.log, system: this.kept.system, units: this.form.units,
      pressures: this.form.pressures, onChange: (log) => this.keep({ log }),
    });
  }

  // The passage of the sheet about a rule.
  passage(sitting, name) {
    return byId(`rule-${this.sittings.indexOf(sitting) + 1}-${name}`);
  }

  // ---- what the rider does besides answering ----

  settingsShown() {
    const { kept, read } = this;
    byId("title").value = read.title ?? "";
    byId("looked").value = read.declaredOn === null ? "" : isoDay(read.declaredOn);
    byId("day").value = isoDay(kept.day);
    byId("ahead-from").value = isoDay(kept.day);
    byId("ahead-to").value = isoDay(kept.day + YEAR);
    for (const radio of byId("system").querySelectorAll("input")) {
      radio.checked = radio.value === kept.system;
    }
  }

  listen() {
    const on = (id, event, does) => byId(id).addEventListener(event, does);
    window.addEventListener("hashchange", () => {
      this.tell("");
      this.showView();
    });
    window.addEventListener("storage", ({ key }) => {
      if (key === this.keeper.name) this.fromElsewhere();
    });
    for (const button of document.querySelectorAll(".print")) {
      button.addEventListener("click", () => window.print());
    }
    on("title", "input", ({ target }) => this.setText(withTitle(this.kept.text, target.value)));
    on("looked", "change", ({ target }) =>
      this.setText(withDeclaredOn(this.kept.text, dayOf(target.value))));
    on("day", "change", ({ target }) => this.chooseDay(dayOf(target.value)));
    on("system", "change", ({ target }) => this.chooseSystem(target.value));
    on("all", "change", () => this.declaring.show());
    for (const id of ["ahead-from", "ahead-to"]) on(id, "change", () => this.showCurrent());
    this.keeping.listen(on);
  }

  chooseDay(day) {
    if (day === null) {
      byId("day").value = isoDay(this.kept.day);
      this.tell("The day of the event stays as it was.");
    } else {
      this.tell("");
      this.keep({ day, ticks: [] });
      this.settingsShown();
      this.worked();
    }
  }

  chooseSystem(system) {
    this.keep({ system });
    for (const field of this.declaring.fields.values()) field.offerUnits();
    this.worked();
  }

  // The same page in another window has changed the declaration.
  fromElsewhere() {
    this.kept = this.keeper.read();
    this.kept.day ??= this.firstDay();
    this.pressuresFor = null;
    this.worked();
    this.settingsShown();
  }
}

// What the address points at; nothing if it is no text.
function hashOf({ hash }) {
  try {
    return decodeURIComponent(hash.slice(1));
  } catch {
    return "";
  }
}

// That an event's day is none that its rules are for.
function outsideText({ event: { title, valid }, day }) {
  if (!valid || (day >= valid[0] && day <= valid[1])) return "";
  return `The rules of ${title} are for events ${longForm(valid)}; this day lies outside.`;
}
