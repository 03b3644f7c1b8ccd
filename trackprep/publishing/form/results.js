// What every rule answers, in words; as trackprep/reports/checks/page.py tells it.

const SIGNS = { "met": "✓", "not-met": "✗", "unsettled": "?", "not-asked": "–" };
const STATUS_WORDS = {
  "met": "met", "not-met": "not met", "unsettled": "unsettled", "not-asked": "not asked of you",
};
const TONES = { "met": "met", "not-met": "not-met", "unsettled": "warning", "not-asked": "quiet" };

function factsUnder(ruleset, at) {
  const [kind, ...members] = ruleset.nodes[at];
  if (!JOINED.has(kind)) return ruleset.named(at);
  const parts = kind === "some of" ? members.slice(1) : members;
  return [...new Set(parts.filter((part) => part >= 0).flatMap((one) => factsUnder(ruleset, one)))];
}

// How many required rules are not met, are open and wait for the inspector alone, and how many
// recommended ones are not met.
function numbersOfAnswers({ checked, ruleset }) {
  const of = (level, status) => checked.answers.filter((answer, at) =>
    ruleset.rules[at][1] === level && answer.status === status);
  const unsettled = of("required", "unsettled");
  const inspector = unsettled.filter((one) => ruleset.waitsForInspector(one)).length;
  return {
    notMet: of("required", "not-met").length, open: unsettled.length - inspector, inspector,
    advice: of("recommended", "not-met").length,
  };
}

// The verdict of an event first, then what else there is to do.
function verdictText(sitting) {
  const { notMet, open, inspector, advice } = numbersOfAnswers(sitting);
  const said = [];
  if (sitting.checked.verdict === "ready") {
    said.push("As declared, nothing here is against the required rules: ready to present.");
  } else if (sitting.checked.verdict === "not-ready") {
    said.push(`Not ready: ${counted(notMet, "required rule")} not met.`);
    if (open) said.push(`${open} more unsettled.`);
  } else {
    said.push(`Incomplete: nothing declared is against the required rules, but ${open}`
      + ` ${open === 1 ? "is" : "are"} unsettled.`);
  }
  const points = counted(inspector, "point is", "points are");
  if (inspector) said.push(`${points} for the inspector alone.`);
  if (advice) said.push(`${counted(advice, "recommendation")} not met.`);
  return said.join(" ");
}

class Answers {
  constructor(app) {
    this.app = app;
  }

  // All answers of one event, those first that need something to be done.
  of(sitting) {
    const { checked, ruleset } = sitting;
    const groups = { "not-met": [], "unsettled": [], "met": [], "not-asked": [] };
    checked.answers.forEach(({ status }, at) => groups[status].push(at));
    const required = (at) => (ruleset.rules[at][1] === "required" ? 0 : 1);
    const nodes = [];
    for (const [status, places] of Object.entries(groups)) {
      if (!places.length) continue;
      places.sort((one, other) => required(one) - required(other) || one - other);
      const entries = places.map((at) => this.entry(sitting, at));
      const head = `${capitalized(STATUS_WORDS[status])}: ${counted(places.length, "rule")}`;
      if (["met", "not-asked"].includes(status)) {
        nodes.push(element("details", {}, element("summary", {}, head), ...entries));
      } else {
        nodes.push(element("h3", {}, head), ...entries);
      }
    }
    return nodes;
  }

  entry(sitting, at) {
    const { event, checked, ruleset } = sitting;
    const [name, level] = ruleset.rules[at];
    const { status } = checked.answers[at];
    const word = STATUS_WORDS[status] + (level === "recommended" ? " (recommended)" : "");
    const badge = element(
      "strong", { class: TONES[status] },
      element("span", { "aria-hidden": "true" }, SIGNS[status]), ` ${capitalized(word)}`,
    );
    const title = element(
      "h4", { class: "title" }, badge, ` ${event.rules[at].title} `,
      element("span", { class: "name" }, `[${name}]`),
    );
    return element(
      "article", { class: `is-${TONES[status]}`, "data-rule": name, "data-status": status },
      title, ...this.told(sitting, at), this.whole(sitting, name),
    );
  }

  told(sitting, at) {
    const { event, checked } = sitting;
    const { status } = checked.answers[at];
    const nodes = [];
    if (status === "not-met") nodes.push(...this.parts(sitting, at));
    if (status === "unsettled") nodes.push(...this.waiting(sitting, at));
    const inspected = event.rules[at].inspect;
    if (inspected && status !== "not-asked") nodes.push(labelled("The inspector", inspected));
    return nodes;
  }

  // The demands that do not hold, with what is declared of their facts.
  parts(sitting, at) {
    const { event, ruleset, reading } = sitting;
    const nodes = [];
    ruleset.rules[at][2].forEach(([, when, demand], place) => {
      if (statusOf(when, demand, reading) !== "not-met") return;
      const part = event.work.rules[at].asked[place].label;
      for (const [node, text] of event.rules[at].tests[place]) {
        if (reading.holds(node) !== false) continue;
        const of = part ? `Asked, ${part}` : "Asked";
        const limits = this.limits(sitting, node);
        nodes.push(labelled(of, `${capitalized(text)}.${limits}`));
        const declared = this.declared(sitting, node);
        if (declared) nodes.push(labelled("Declared", declared));
      }
    });
    return nodes;
  }

  declared(sitting, node) {
    const { app } = this;
    const said = factsUnder(sitting.ruleset, node).map((place) => {
      const fact = app.facts.get(sitting.ruleset.facts[place].path);
      const given = fact && app.read.given.get(fact.path);
      return given?.plain === undefined ? "" : `${fact.label}: ${valueText(fact, given)}`;
    });
    return said.filter(Boolean).join("; ");
  }

  // The limits of a demand: the row that holds here, and in the units that the rider reads.
  limits({ ruleset, reading }, node) {
    const found = [];
    const walk = (at, byRow) => {
      const [kind, ...members] = ruleset.nodes[at];
      if (kind === "by rows") {
        const rows = reading.inPlay(members, (when) => reading.holds(when));
        for (const [, test] of rows) walk(test, rows.length === 1);
      } else if (kind === "number") {
        const [[what, place], right] = [ruleset.nodes[members[0]], members[2]];
        if (what === "number of") found.push(this.limit(ruleset, reading, place, right, byRow));
      } else if (JOINED.has(kind) || kind === "between") {
        const parts = kind === "some of" ? members.slice(1) : members;
        for (const part of parts) walk(part, byRow);
      }
    };
    walk(node, false);
    const said = [...new Set(found.filter(Boolean))];
    return said.length ? ` Here: ${said.join("; ")}.` : "";
  }

  limit(ruleset, reading, place, right, byRow) {
    const fact = this.app.facts.get(ruleset.facts[place].path);
    const numbers = reading.numbers(right);
    if (!fact?.unit || fact.whole || numbers.length !== 1 || !(numbers[0]?.d > 0n)) return "";
    const { units } = this.app.form;
    const [preferred] = offeredUnits(fact, units, this.app.kept.system);
    const show = (unit) => showAmount(rationalText(numbers[0]), unit, units, fact.difference);
    if (preferred !== fact.unit) return `${show(fact.unit)}, that is ${show(preferred)}`;
    return byRow ? show(fact.unit) : "";
  }

  // What an unsettled rule waits for.
  waiting(sitting, at) {
    const { declare, narrow } = sitting.checked.answers[at];
    const inspector = declare.filter((path) => this.app.facts.get(path)?.inspector);
    const own = declare.filter((path) => !inspector.includes(path));
    const nodes = [];
    if (own.length) nodes.push(this.links("Still to declare", own));
    if (narrow.length) nodes.push(this.links("A finer date is needed", narrow));
    if (inspector.length) {
      const labels = inspector.map((path) => this.app.facts.get(path).label);
      nodes.push(labelled("For the inspector to decide", `${labels.join("; ")}.`));
    }
    if (!nodes.length) {
      nodes.push(labelled("Cannot be worked out", "the numbers leave it open; ask the organizer."));
    }
    return nodes;
  }

  links(label, paths) {
    const linked = paths.flatMap((path, place) => [
      place ? "; " : " ",
      element("a", { href: `#q-${path}` }, this.app.facts.get(path)?.label ?? path),
    ]);
    return element("p", {}, element("strong", {}, `${label}:`), ...linked);
  }

  // The rule as the sheet prints it.
  whole(sitting, name) {
    const passage = this.app.passage(sitting, name);
    if (!passage) return null;
    const made = element("details", {}, element("summary", {}, "The rule in full"));
    made.addEventListener("toggle", () => {
      if (made.open && made.children.length === 1) {
        const copied = passage.cloneNode(true);
        copied.querySelector("h3")?.remove();
        made.append(...copied.children);
      }
    });
    return made;
  }
}
