// The page: what is declared, and every view of what follows from it.

const VIEWS = ["declare", "answers", "work", "gate", "ahead", "pressures", "road", "keep", "rules"];
const YEAR = 365;

function byId(id) {
  return document.getElementById(id);
}

class App {
  constructor(form) {
    this.form = { ...form, facts: expandedFacts(form.facts) };
    this.facts = new Map(this.form.facts.map((fact) => [fact.path, fact]));
    this.sections = groupedBy(this.form.facts, (fact) => fact.section ?? "");
    this.rulesets = form.events.map((event) => new Ruleset(event.plain));
    this.keeper = new Keeper(form.name, (text) => this.tell(text));
    this.kept = this.keeper.read();
    this.today = dayToday();
    this.touched = new Set();
    this.problems = new Map();
    this.former = null;
    [this.answers, this.lists] = [new Answers(this), new Lists(this)];
  }

  start() {
    this.kept.day ??= this.firstDay();
    this.buildQuestions();
    this.listen();
    byId("app").hidden = false;
    this.settingsShown();
    this.worked();
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
    this.keep({ text }, true);
  }

  // The declaration of some other text; the one before can be brought back.
  takeOver(text, from) {
    this.former = this.kept.text.trim() ? this.kept.text : null;
    byId("before").hidden = this.former === null;
    this.touched.clear();
    this.problems.clear();
    this.setText(text);
    this.settingsShown();
    const { problems, strangers, given } = this.read;
    const said = [`${counted(given.size, "answer")} ${from}.`];
    if (problems.length) said.push(`${counted(problems.length, "line")} cannot be read: see below.`);
    if (strangers.length) said.push(`${counted(strangers.length, "line")} of it these rules do not ask.`);
    this.tell(said.join(" "));
  }

  // ---- what follows from it ----

  worked() {
    const { kept, form } = this;
    this.read = readDeclaration(kept.text, form);
    const values = plainValues(this.read);
    this.sittings = form.events.map((event, place) => {
      const ruleset = this.rulesets[place];
      const { known } = ruleset.prepared(ruleset.valuesOf(values), kept.day);
      const reading = new Reading(ruleset, known, kept.day);
      const checked = ruleset.check(values, kept.day);
      return { event, ruleset, values, day: kept.day, checked, reading };
    });
    this.open = openQuestions(form, this.sittings, new Set(this.read.notKnown));
    this.showVerdicts();
    this.showQuestions();
    this.showCurrent();
  }

  // ---- questions ----

  buildQuestions() {
    this.fields = new Map();
    this.groups = [];
    const place = byId("questions");
    let heading = null;
    let group = null;
    for (const fact of this.form.facts) {
      if (fact.inspector || fact.here) continue;
      if (fact.heading !== heading) {
        heading = fact.heading;
        group = { node: element("section", {}, element("h3", {}, heading)), fields: [] };
        this.groups.push(group);
        place.append(group.node);
      }
      const field = new Field(fact, this);
      this.fields.set(fact.path, field);
      group.fields.push(field);
      group.node.append(field.node);
    }
  }

  near(fact) {
    return new Set(this.sections.get(fact.section ?? "").map(({ path }) => path));
  }

  // Takes an answer as typed; what is wrong with it, if it cannot be taken.
  answer(fact, typed) {
    const { form, kept } = this;
    this.touched.add(fact.path);
    const read = typed ? readAnswer(fact, typed, form, kept.day) : {};
    if (read.problem) this.problems.set(fact.path, read.problem);
    else this.problems.delete(fact.path);
    this.setText(read.written === undefined
      ? withoutAnswer(kept.text, fact.path)
      : withAnswer(kept.text, fact.path, read.written, this.near(fact)));
    return read.problem;
  }

  takeBack(fact) {
    this.touched.add(fact.path);
    this.problems.delete(fact.path);
    this.fields.get(fact.path).complain("");
    this.setText(withoutAnswer(this.kept.text, fact.path));
  }

  unsure(fact, whether) {
    const { text } = this.kept;
    this.touched.add(fact.path);
    this.setText(whether
      ? withNote(text, fact.path, this.near(fact))
      : withoutNote(text, fact.path));
  }

  showQuestions() {
    const { given, notKnown } = this.read;
    const open = new Set(this.open.map(({ path }) => path));
    const unsure = new Set(notKnown);
    const all = byId("all").checked;
    for (const { node, fields } of this.groups) {
      for (const field of fields) {
        const { path } = field.fact;
        const its = given.get(path);
        const here = open.has(path) || unsure.has(path) || this.touched.has(path)
          || Boolean(its?.problem) || this.wanted === path || (all && Boolean(its));
        field.node.hidden = !here;
        if (here) field.show(its, unsure.has(path));
      }
      node.hidden = fields.every((field) => field.node.hidden);
    }
    this.showLeft(given, unsure);
  }

  showLeft(given, unsure) {
    const left = this.open.length;
    const said = [left ? `${counted(left, "question")} left.` : "No question is left."];
    if (given.size) said.push(`${counted(given.size, "answer")} declared.`);
    if (unsure.size) said.push(`${unsure.size} not known.`);
    const text = said.join(" ");
    if (byId("left").textContent !== text) byId("left").textContent = text;
    this.showStrangers();
  }

  // What the declaration says besides: of the same vocabulary, or of none.
  showStrangers() {
    const paths = this.read.strangers.map(({ path }) => path);
    const others = new Set(this.form.others);
    const [known, unknown] = [
      paths.filter((path) => others.has(path)), paths.filter((path) => !others.has(path)),
    ];
    fill(
      byId("strangers"),
      unknown.length ? labelled("Not known here", `${unknown.join(", ")}. No fact has such a name:`
        + " look for a slip of the pen. The lines are kept as they are.", "warning") : null,
      known.length ? element(
        "details", {},
        element("summary", {}, `${counted(known.length, "answer")} that these rules do not ask`),
        element("p", {}, `${known.join(", ")}. These lines are kept as they are.`),
      ) : null,
    );
  }

  // ---- views ----

  showVerdicts() {
    const lines = this.sittings.map((sitting) => {
      const { verdict } = sitting.checked;
      const tone = { "ready": "met", "not-ready": "not-met", "incomplete": "warning" }[verdict];
      const title = this.sittings.length > 1 ? `${sitting.event.title}: ` : "";
      return element(
        "p", { "data-event": sitting.event.name, "data-verdict": verdict },
        element("strong", { class: tone }, title), verdictText(sitting),
      );
    });
    const place = byId("verdicts");
    const said = lines.map((line) => line.textContent).join("\n");
    if (this.said !== said) fill(place, lines);
    this.said = said;
    this.showValidity();
  }

  showValidity() {
    const { day } = this.kept;
    const outside = this.form.events.filter(({ valid }) =>
      valid && (day < valid[0] || day > valid[1]));
    byId("validity").textContent = outside.map(({ title, valid }) =>
      `The rules of ${title} are for events ${longForm(valid)}; this day lies outside.`).join(" ");
  }

  // The view that the address names; a question's own address leads to it.
  showView() {
    const hash = decodeURIComponent(location.hash.slice(1));
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
      this.showQuestions();
      this.fields.get(question)?.focus();
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
        this.showKept();
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

  showKept() {
    const { text } = this.kept;
    byId("declaration").textContent = text || "Nothing is declared yet.";
    const wrong = [...this.read.problems];
    fill(byId("problems"), wrong.length
      ? [element("h3", {}, "What cannot be read"), element("ul", {}, ...wrong.map(
        ({ line, message }) => element("li", {}, `Line ${line}: ${message}`)))]
      : []);
  }

  // The passage of the sheet about a rule.
  passage(sitting, name) {
    return byId(`rule-${this.sittings.indexOf(sitting) + 1}-${name}`);
  }

  // ---- what the rider does besides answering ----

  settingsShown() {
    const { kept, form } = this;
    const read = readDeclaration(kept.text, form);
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
    window.addEventListener("hashchange", () => this.showView());
    window.addEventListener("storage", ({ key }) => key === this.keeper.name && this.fromElsewhere());
    on("title", "input", ({ target }) => this.setText(withTitle(this.kept.text, target.value)));
    on("looked", "change", ({ target }) =>
      this.setText(withDeclaredOn(this.kept.text, dayOf(target.value))));
    on("day", "change", ({ target }) => this.chooseDay(dayOf(target.value)));
    on("system", "change", ({ target }) => this.chooseSystem(target.value));
    on("all", "change", () => this.showQuestions());
    for (const id of ["ahead-from", "ahead-to"]) on(id, "change", () => this.showCurrent());
    this.listenToKeeping(on);
  }

  listenToKeeping(on) {
    on("save", "click", () => saveFile("declaration.rider", this.kept.text));
    on("copy", "click", () => this.copy());
    on("print", "click", () => window.print());
    on("load", "change", ({ target }) => this.load(target));
    on("take", "click", () => {
      const { value } = byId("paste");
      if (!value.trim()) this.tell("Nothing is pasted yet.");
      else this.takeOver(value, "taken over from the pasted text");
    });
    on("before", "click", () => this.takeOver(this.former, "brought back"));
    const ask = (sure) => {
      byId("clear").hidden = sure;
      byId("clear-sure").hidden = byId("clear-not").hidden = !sure;
      byId(sure ? "clear-not" : "clear").focus();
    };
    on("clear", "click", () => ask(true));
    on("clear-not", "click", () => ask(false));
    on("clear-sure", "click", () => {
      this.clear();
      ask(false);
    });
  }

  chooseDay(day) {
    if (day === null) this.tell("Choose the day of the event.");
    else {
      this.keep({ day }, true);
      this.settingsShown();
      this.showCurrent();
    }
  }

  chooseSystem(system) {
    this.keep({ system });
    for (const field of this.fields.values()) field.offerUnits();
    this.worked();
  }

  async copy() {
    try {
      await navigator.clipboard.writeText(this.kept.text);
      this.tell("The declaration is copied.");
    } catch {
      getSelection().selectAllChildren(byId("declaration"));
      this.tell("This browser lets no page copy: the text is selected, so copy it yourself.");
    }
  }

  async load(input) {
    const [file] = input.files;
    if (!file) return;
    try {
      const text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
      this.takeOver(text, `loaded from ${file.name}`);
    } catch {
      this.tell(`${file.name} is no text that can be read. Nothing is changed.`);
    }
    input.value = "";
  }

  clear() {
    if (!this.keeper.clear()) return;
    const { system } = this.kept;
    this.kept = { ...EMPTY, system, day: this.firstDay() };
    [this.former, this.pressuresFor] = [null, null];
    byId("before").hidden = true;
    byId("paste").value = "";
    this.touched.clear();
    this.problems.clear();
    for (const field of this.fields.values()) field.complain("");
    this.worked();
    this.settingsShown();
    this.tell("This browser keeps nothing of yours any more.");
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

function groupedBy(all, keyOf) {
  const groups = new Map();
  for (const one of all) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one]);
  return groups;
}

function dayToday() {
  const now = new Date();
  return dayNumber(now.getFullYear(), now.getMonth() + 1, now.getDate());
}
