// The lists of what to do, to take along, to look at and to put back, with boxes to tick.

class Lists {
  constructor(app) {
    this.app = app;
  }

  several() {
    return this.app.sittings.length > 1;
  }

  // A box keeps its tick by `key`, what is said without numbers that change with the list.
  tick(label, text, { cautions = [], rows = [], key = `${label}: ${text}` } = {}) {
    const { kept } = this.app;
    const box = element("input", { type: "checkbox" });
    box.checked = kept.ticks.includes(key);
    box.addEventListener("change", () => {
      const others = kept.ticks.filter((one) => one !== key);
      this.app.keep({ ticks: box.checked ? [...others, key] : others });
    });
    const said = label ? [element("strong", {}, `${label}:`), ` ${text}`] : [text];
    return element(
      "div", { class: "task" },
      ...cautions.map((caution) => cautionLine(caution)),
      element("label", { class: "tick" }, box, element("span", {}, ...said)),
      pairs(rows),
    );
  }

  ticks(heading, entries) {
    if (!entries.length) return [];
    return [element("h3", {}, heading), ...entries];
  }

  titled(places) {
    return listed(places.map((place) => this.app.sittings[place].event.title));
  }

  // The rules that something is for, each once with the events that ask it.
  served(serves) {
    const { sittings } = this.app;
    const events = new Map();
    for (const { event, rule, parts = [] } of serves) {
      const about = parts.length ? ` (${listed(parts)})` : "";
      const said = sittings[event].event.rules[rule].title + about;
      events.set(said, [...(events.get(said) ?? []), event]);
    }
    const all = sittings.length === 2 ? "both events" : "all events";
    const where = (places) => (places.length === sittings.length ? all : this.titled(places));
    return [...events].map(([said, places]) =>
      (this.several() ? `${said}, at ${where(places)}` : said)).join("; ");
  }

  // What to do, in every way that it is said, with its time where that is known.
  worded({ texts, takes }) {
    const said = texts.length > 1
      ? texts.map(([text, places]) => `${text} (${this.titled(places)})`).join(" ")
      : texts[0][0];
    return !rational(takes.minutes).n ? said : `${said} (${timeText(takes.minutes)})`;
  }

  // ---- the work list ----

  work(list) {
    const { app } = this;
    const spots = [["required", "at home"], ["required", "in the paddock"],
      ["recommended", "at home"], ["recommended", "in the paddock"]];
    const nodes = [this.arrival(list), ...this.unknown()];
    this.forgetDone(list.jobs);
    if (app.open.length) {
      const link = element("a", { href: "#declare" }, "declare the rest");
      nodes.push(element(
        "p", {}, element("strong", {}, "Find out first: "),
        `${counted(app.open.length, "question")} can still change an answer: `, link, ".",
      ));
    }
    for (const [level, spot] of spots) {
      const jobs = list.jobs.filter((job) => job.level === level && job.spot === spot);
      if (!jobs.length) continue;
      const head = level === "required" ? `Do ${spot}` : `Recommended, ${spot}`;
      const time = totalText(totalTime(jobs));
      nodes.push(element("h3", {}, head));
      nodes.push(element(
        "p", {}, `${counted(jobs.length, "job")}: ${time}. ${app.form.words.mechanic}`));
      nodes.push(...jobs.map((job) => this.job(job)));
    }
    if (!list.jobs.length) nodes.push(element("p", {}, "Nothing that is declared asks for work."));
    nodes.push(...this.ticks("Buy", list.buy.map((one) => this.tick(
      one.name, `${this.when(one)}; ${usesText(one)}`, { key: `buy ${one.name}` }))));
    nodes.push(...this.ticks("Borrow, if you have none", list.borrow.map((one) => this.tick(
      one.name, usesText(one), { key: `borrow ${one.name}` }))));
    nodes.push(element("p", {}, app.form.words.real));
    return nodes;
  }

  // Who has declared that the machine is not registered for the road is not asked.
  arrival(list) {
    if (list.road.registered === false) return element("p", {}, "The machine is carried there.");
    const select = element(
      "select", { id: "arrival" },
      element("option", { value: "ridden" }, "ridden to the event"),
      element("option", { value: "carried" }, "carried to the event"),
    );
    select.value = list.arrival;
    select.addEventListener("change", () => {
      this.app.keep({ arrival: select.value }, true);
      byId("arrival")?.focus(); // the list was made anew
    });
    return element(
      "p", {}, element("label", { for: "arrival" }, "The machine is "), select, ": ",
      list.arrival === "ridden"
        ? "what it needs on the road comes off in the paddock, and goes back on there."
        : "what can be done at home is done there.",
    );
  }

  job(job) {
    const [first, later] = [job.after.filter((one) => one < job.number),
      job.after.filter((one) => one > job.number)];
    const rows = [
      ["For", this.served(job.serves)],
      ["After", first.length ? jobsText(first) : ""],
      ["First, if you do it", later.length ? jobsText(later) : ""],
      ["Parts", job.parts.join(", ")],
      ["Tools", job.tools.join(", ")],
    ];
    return this.tick(`Job ${job.number}`, this.worded(job),
      { cautions: job.cautions, rows, key: jobKey(job) });
  }

  // Work that is no longer asked is not done already when it is asked again.
  forgetDone(jobs) {
    const { kept } = this.app;
    const keys = new Set(jobs.map(jobKey));
    const left = kept.ticks.filter((one) => !one.startsWith(WORK) || keys.has(one));
    if (left.length < kept.ticks.length) this.app.keep({ ticks: left });
  }

  // What the rider could not tell, to be found out before the event.
  unknown() {
    const { facts, read } = this.app;
    const found = read.notKnown.map((path) => facts.get(path)).filter(Boolean);
    if (!found.length) return [];
    return [
      element("h3", {}, "Find out what you could not tell"),
      element("p", {}, "A rule that hangs on it stays unsettled. If you cannot find out, take it as"
        + " not met and do what the rule asks."),
      ...found.map(({ path, label, ask, how, takes, caution }) => this.tick(label, ask ?? "", {
        cautions: caution ? [caution] : [], key: `find out ${path}`,
        rows: [["How", how && (takes ? `${how} (${timeText(takes)})` : how)]],
      })),
    ];
  }

  when(one) {
    if (one.by === null) return "no time to allow is given";
    const said = `order by ${longForm(one.by)} (allow ${one.allow})`;
    return one.late
      ? `${said}: that day is over, so buy it in a shop, or hire or borrow it` : said;
  }

  // ---- at the gate ----

  gate(list) {
    const { pack } = list;
    const taken = pack.brings.map((text) => this.tick("", text));
    if (pack.tools.length) taken.push(this.tick("Tools for the paddock", pack.tools.join(", ")));
    if (pack.parts.length) taken.push(this.tick("Parts for the paddock", pack.parts.join(", ")));
    const nodes = this.ticks("Pack", taken);
    for (const sitting of this.app.sittings) nodes.push(...this.inspected(sitting));
    nodes.push(labelled("After a fall", this.app.form.words.fall));
    return nodes;
  }

  // What the inspector does, in the order of the rules.
  inspected({ event, checked }) {
    const rows = event.rules.flatMap(({ title, inspect }, at) =>
      (inspect && checked.answers[at].status !== "not-asked" ? [[title, inspect]] : []));
    if (!rows.length) return [];
    const name = this.several() ? ` at ${event.title}` : "";
    return [element("h3", {}, `What the inspector does${name}`), pairs(rows)];
  }

  // ---- back on the road ----

  road({ road }) {
    const { facts, form: { words } } = this.app;
    if (road.registered === false) return [element("p", {}, words.notRegistered)];
    const head = [
      road.registered === null ? labelled("Note", words.unknown, "warning") : null,
      road.registered === null && facts.has(words.registered) ? element("p", {}, element(
        "a", { href: `#q-${words.registered}` }, "Declare whether it is registered"), ".") : null,
      labelled("Caution", words.notLegal, "warning"),
    ];
    return [
      ...head,
      ...this.steps("Before you leave the paddock", road.leaving),
      ...this.steps("Before its next ride on the road, or frost", road.later),
    ];
  }

  steps(heading, steps) {
    if (!steps.length) return [];
    const time = totalText(totalTime(steps));
    return [
      element("h3", {}, heading), labelled("Time", `${time}.`),
      ...steps.map((step) => this.step(step)),
    ];
  }

  step(step) {
    const look = step.point ? `Last look, ${step.point.toLowerCase()}` : "";
    const rows = [
      ["For", this.served(step.serves)],
      ["You declared", this.declared(step.declared)],
      ["Takes back", step.jobs.length ? jobsText(step.jobs) : ""],
      ["Only if", step.onlyIf ? "it was done: the declaration does not tell" : ""],
      ["Parts", step.parts.join(", ")],
      ["Tools", step.tools.join(", ")],
    ];
    return this.tick(step.serves.length ? step.point : look, this.worded(step),
      { cautions: step.cautions, rows, key: `road ${step.texts[0][0]}` });
  }

  declared(paths) {
    const { facts, read } = this.app;
    const known = paths.filter((path) => read.given.get(path)?.plain !== undefined);
    return known.map((path) =>
      `${facts.get(path).label}: ${valueText(facts.get(path), read.given.get(path))}`).join("; ");
  }

  // ---- the look ahead ----

  ahead(changes) {
    const { sittings } = this.app;
    if (!changes.length) {
      return [element("p", {}, "In this time no answer changes by itself.")];
    }
    const inOrder = [...changes].sort((one, other) => one.from - other.from);
    const rows = inOrder.map(({ event, rule, from, status, was }) => [
      longForm(from),
      `${this.several() ? `${sittings[event].event.title}: ` : ""}`
        + sittings[event].event.rules[rule].title,
      `${STATUS_WORDS[status]}, until then ${STATUS_WORDS[was]}`,
    ]);
    return [table(["From", "Rule", "Becomes"], rows)];
  }
}

const WORK = "work ";

function jobKey({ texts }) {
  return WORK + texts[0][0];
}
