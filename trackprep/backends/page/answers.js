// A compiled ruleset, and what its rules answer: as trackprep/backends/checks.py.

const BY_WEIGHT = ["not-asked", "met", "unsettled", "not-met"];

class Ruleset {
  // `plain` is what trackprep.backends.page makes of a ruleset.
  constructor(plain) {
    this.facts = plain.facts.map(([path, kind, inspector]) => ({ path, kind, inspector }));
    this.places = new Map(this.facts.map(({ path }, place) => [path, place]));
    this.rules = plain.rules;
    this.nodes = plain.nodes.map(prepareNode);
    this.here = this.valuesOf(plain.here);
    this.names = new Map();
  }

  // Values by the number of the fact, of plain ones by path; what no fact is, is left out.
  valuesOf(plain) {
    const known = Object.entries(plain).filter(([path]) => this.places.has(path));
    return new Map(known.map(([path, value]) => {
      const place = this.places.get(path);
      return [place, valueOf(this.facts[place].kind, value)];
    }));
  }

  // The terms that stand directly in a term, also in the conditions of its rows.
  operands([kind, ...members]) {
    switch (kind) {
      case "constant":
      case "number of":
      case "row of":
      case "years":
        return [];
      case "minimum":
      case "maximum":
        return members;
      case "cases": {
        const rows = members.map((_, place) => place).filter((place) => place % 2 === 0);
        const whens = rows.map((place) => members[place]).filter((when) => when >= 0);
        const values = rows.map((place) => members[place + 1]);
        return [...whens.flatMap((when) => this.sidesOf(when)), ...values];
      }
      case "+":
      case "-":
      case "*":
      case "/":
        return members;
      default:
        return [members[0]];
    }
  }

  // The terms that the tests of numbers in a condition compare.
  sidesOf(at) {
    const [kind, ...members] = this.nodes[at];
    if (kind === "number") return [members[0], members[2]];
    const parts = kind === "some of" ? members.slice(1) : members;
    return parts.filter((part) => part >= 0).flatMap((part) => this.sidesOf(part));
  }

  // The facts that a test or a term names, in reading order, each as often as it is named.
  named(at) {
    if (!this.names.has(at)) this.names.set(at, this.namesIn(this.nodes[at]));
    return this.names.get(at);
  }

  namesIn([kind, ...members]) {
    switch (kind) {
      case "is":
      case "is not":
      case "flag":
      case "includes":
      case "number of":
      case "row of":
      case "day of":
        return [members[0]];
      case "grade":
        return [members[0], members[2]].filter((fact) => typeof fact === "number");
      case "number":
      case "day":
        return [...this.named(members[0]), ...this.named(members[2])];
      case "between":
      case "age":
      case "years":
        return [...this.named(members[0]), ...this.named(members[1])];
      case "shifted":
        return this.named(members[0]);
      case "fixed":
      case "event":
      case "year start":
        return [];
      default:
        return this.operands([kind, ...members]).flatMap((term) => this.named(term));
    }
  }

  // What is known on the event's day, and the facts all of whose days lie after it.
  prepared(values, event) {
    const known = new Map([...values, ...this.here]);
    const future = [];
    for (const [fact, value] of [...known]) {
      if (!["past date", "week code"].includes(this.facts[fact].kind)) continue;
      if (value.first > event) {
        known.delete(fact);
        future.push(fact);
      } else {
        known.set(fact, { first: value.first, last: Math.min(value.last, event) });
      }
    }
    return { known, future };
  }

  pathsOf(facts) {
    return [...new Set(facts)].map((fact) => this.facts[fact].path);
  }

  // What plain values say on the event's day, and the past dates that lie after it.
  read(plain, event) {
    const { known, future } = this.prepared(this.valuesOf(plain), event);
    return { reading: new Reading(this, known, event), future: this.pathsOf(future) };
  }

  // What every rule answers to what was read, and the verdict.
  check({ reading, future }) {
    const answers = this.rules.map(([, , asked]) => this.answer(asked, reading));
    return { answers, verdict: this.verdict(answers), future };
  }

  answer(asked, reading) {
    const statuses = asked.map(([, when, demand]) => statusOf(when, demand, reading));
    const status = BY_WEIGHT[Math.max(...statuses.map((one) => BY_WEIGHT.indexOf(one)))];
    const having = asked.filter((_, place) => statuses[place] === status);
    const made = { status, part: having[0][0], declare: [], narrow: [] };
    if (status !== "unsettled") return made;
    const tests = having.flatMap(([, ...both]) => both.flatMap((at) => reading.unknownTests(at)));
    const torn = tests.filter((test) => !([TRUE, FALSE, UNKNOWN].includes(reading.possible(test))));
    const names = (some) => some.flatMap((test) => this.named(test));
    const valueOfFact = (fact) => reading.values.get(fact);
    made.declare = this.pathsOf(names(tests).filter((fact) => valueOfFact(fact) === undefined));
    made.narrow = this.pathsOf(names(torn).filter((fact) => isCoarse(valueOfFact(fact))));
    return made;
  }

  verdict(answers) {
    const required = answers.filter((_, place) => this.rules[place][1] === "required");
    if (required.some(({ status }) => status === "not-met")) return "not-ready";
    const open = required.filter(({ status }) => status === "unsettled");
    return open.every((answer) => this.waitsForInspector(answer)) ? "ready" : "incomplete";
  }

  waitsForInspector({ declare, narrow }) {
    const inspected = declare.every((path) => this.facts[this.places.get(path)].inspector);
    return declare.length > 0 && narrow.length === 0 && inspected;
  }
}

function statusOf(when, demand, reading) {
  const applies = reading.holds(when);
  if (applies === false) return "not-asked";
  const met = reading.holds(demand);
  if (met === true) return "met";
  return applies === true && met === false ? "not-met" : "unsettled";
}

// Numbers become rationals, and the rows of a table a look-up.
function prepareNode(node) {
  const [kind, ...members] = node;
  switch (kind) {
    case "constant":
      return [kind, rational(members[0])];
    case "rounded":
    case "rounded down":
      return [kind, members[0], rational(members[1])];
    case "words":
      return new Map(members.map(([word, value]) => [word, rational(value)]));
    case "counts":
      return new Map(members.map(([count, value]) => [keyOf(rational(count)), rational(value)]));
    default:
      return node;
  }
}

function valueOf(kind, plain) {
  switch (kind) {
    case "number":
      return rational(plain);
    case "several of":
      return new Set(plain);
    case "date":
    case "past date":
    case "week code":
      return { first: plain[0], last: plain[1] };
    default:
      return plain;
  }
}
