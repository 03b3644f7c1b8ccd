// What a declaration says of a ruleset's conditions, over all the days that its dates may mean.
// As in trackprep/backends: connectives.py, terms.py, readings.py. Conditions and terms are
// numbered nodes, each an array of its kind and its members.

const JOINED = new Set(["not", "all", "any", "some of", "by rows"]);

class Reading {
  // `values` are by the number of the fact, of the declared ones alone.
  constructor(ruleset, values, event) {
    Object.assign(this, { ruleset, values, event });
    this.known = { holds: new Map(), rows: new Map(), possible: new Map(), numbers: new Map() };
  }

  node(at) {
    return this.ruleset.nodes[at];
  }

  once(kind, at, work) {
    const known = this.known[kind];
    if (!known.has(at)) known.set(at, work());
    return known.get(at);
  }

  // ---- connectives ----------------------------------------------------------

  holds(at) {
    return this.once("holds", at, () =>
      this.truth(at, (part) => this.holds(part), (test) => this.possible(test)));
  }

  // Of a formula's row: its tests take their terms as independent of each other.
  rowHolds(at) {
    return this.once("rows", at, () =>
      this.truth(at, (part) => this.rowHolds(part), (test) => this.numberTruths(this.node(test))));
  }

  truth(at, holds, possible) {
    const [kind, ...members] = this.node(at);
    if (!JOINED.has(kind)) return alike(possible(at));
    if (kind === "by rows") {
      const truths = this.inPlay(members, holds).map(([, test]) => holds(test));
      return truths.every((truth) => truth === truths[0]) ? truths[0] : null;
    }
    if (kind === "not") {
      const inner = holds(members[0]);
      return inner === null ? null : !inner;
    }
    const [least, parts] = this.counted(kind, members);
    const truths = parts.map(holds);
    if (truths.filter((truth) => truth === true).length >= least) return true;
    return truths.filter((truth) => truth !== false).length >= least ? null : false;
  }

  // How many of which parts must hold.
  counted(kind, members) {
    if (kind === "some of") return [members[0], members.slice(1)];
    return [kind === "all" ? members.length : 1, members];
  }

  // The rows [condition, value] that may be the first that holds; a condition of -1 always does.
  inPlay(flat, holds) {
    const rows = [];
    for (let at = 0; at < flat.length; at += 2) {
      const applies = flat[at] < 0 || holds(flat[at]);
      if (applies !== false) rows.push([flat[at], flat[at + 1]]);
      if (applies === true) break;
    }
    return rows;
  }

  // The tests that leave a condition unknown, in reading order.
  unknownTests(at) {
    if (this.holds(at) !== null) return [];
    const [kind, ...members] = this.node(at);
    if (!JOINED.has(kind)) return [at];
    return this.partsToAsk(kind, members).flatMap((part) => this.unknownTests(part));
  }

  partsToAsk(kind, members) {
    if (kind !== "by rows") return kind === "some of" ? members.slice(1) : members;
    const rows = this.inPlay(members, (when) => this.holds(when));
    const whens = rows.map(([when]) => when).filter((when) => when >= 0);
    return [...whens, ...rows.map(([, test]) => test)];
  }

  // ---- tests ----------------------------------------------------------------

  possible(at) {
    return this.once("possible", at, () => this.truthsOf(at));
  }

  truthsOf(at) {
    const [kind, fact, ...members] = this.node(at);
    const value = this.values.get(fact);
    switch (kind) {
      case "is":
      case "is not":
        return value === undefined ? UNKNOWN : sure(members.includes(value) === (kind === "is"));
      case "flag":
        return value === undefined ? UNKNOWN : sure(value === members[0]);
      case "includes":
        return value === undefined ? UNKNOWN : sure(this.includes(value, ...members));
      case "grade":
        return this.gradeTruths(value, ...members);
      default:
        return this.overDays(at);
    }
  }

  includes(declared, how, ...words) {
    if (how === "all") return words.every((word) => declared.has(word));
    return words.some((word) => declared.has(word)) === (how === "any");
  }

  // The bound is a word, or the number of the fact that it is declared as.
  gradeTruths(word, comparison, bound, ...grades) {
    const limit = typeof bound === "string" ? bound : this.values.get(bound);
    if (word === undefined || limit === undefined) return UNKNOWN;
    return sure(COMPARE[comparison](grades.indexOf(word) - grades.indexOf(limit)));
  }

  // Over all days; of a date that the test names twice, one day at a time.
  overDays(at) {
    const names = this.ruleset.named(at);
    const twice = new Set(names.filter((fact, place) => names.indexOf(fact) !== place));
    const facts = [...twice].filter((fact) => isCoarse(this.values.get(fact)));
    if (!facts.length) return this.comparison(at);
    const spans = facts.map((fact) => this.values.get(fact));
    const count = spans.reduce((all, { first, last }) => all * (last - first + 1), 1);
    if (count > MOST_READINGS) return EITHER | UNKNOWN;
    let truths = 0;
    for (const days of product(spans.map(eachDay))) {
      const values = new Map(this.values);
      facts.forEach((fact, place) => values.set(fact, oneDay(days[place])));
      truths |= new Reading(this.ruleset, values, this.event).comparison(at);
    }
    return truths;
  }

  comparison(at) {
    const node = this.node(at);
    switch (node[0]) {
      case "number":
        return this.numberTruths(node);
      case "day":
        return this.dayTruths(node);
      case "age":
        return this.ageTruths(node);
    }
    if (this.node(node[1])[0] === "number") return this.numberTruths(node);
    const ends = node.slice(1).map((end) => truthsIn(this.possible(end)));
    let truths = 0;
    for (const [low, high] of product(ends)) truths |= setOf(bothEnds(low, high));
    return truths;
  }

  numberTruths([kind, ...members]) {
    let truths = 0;
    if (kind === "number") {
      const [left, comparison, right] = members;
      for (const one of this.numbers(left)) {
        for (const other of this.numbers(right)) truths |= setOf(compared(one, comparison, other));
      }
      return truths;
    }
    const [[, subject, from, low], [, , to, high]] = members.map((end) => this.node(end));
    for (const one of this.numbers(subject)) {
      for (const [start, end] of product([this.numbers(low), this.numbers(high)])) {
        truths |= setOf(bothEnds(compared(one, from, start), compared(one, to, end)));
      }
    }
    return truths;
  }

  ageTruths([, of, on, comparison, months, days, grain]) {
    const [made, then] = [this.daySpan(of), this.daySpan(on)];
    if (!made || !then) return UNKNOWN;
    const truth = ageHolds(made, then, comparison, months, days, grain);
    return truth === null ? EITHER : sure(truth);
  }

  dayTruths([, left, comparison, right]) {
    const [one, other] = [this.daySpan(left), this.daySpan(right)];
    if (!one || !other) return UNKNOWN;
    if (comparison.endsWith("equal")) {
      const same = this.sameDay(left, right);
      return comparison === "equal" || same === EITHER ? same : EITHER ^ same;
    }
    const holds = COMPARE[comparison];
    const orders = [Math.sign(one.first - other.last), Math.sign(one.last - other.first)];
    const truths = orders.map(holds);
    return truths[0] === truths[1] ? sure(truths[0]) : EITHER;
  }

  sameDay(left, right) {
    const [one, other] = [left, right].map((term) => new Set(this.daysOf(term)));
    if (![...one].some((day) => other.has(day))) return FALSE;
    return one.size === 1 && other.size === 1 ? TRUE : EITHER;
  }

  // ---- terms ----------------------------------------------------------------

  // The first and the last day that a term may be; null if it is not known at all.
  daySpan(at) {
    const [kind, of, months, days] = this.node(at);
    switch (kind) {
      case "day of": {
        const declared = this.values.get(of);
        return isSpan(declared) ? declared : null;
      }
      case "fixed":
        return oneDay(of);
      case "event":
        return oneDay(this.event);
      case "year start":
        return oneDay(dayNumber(calendarDay(this.event).year, 1, 1));
    }
    const inner = this.daySpan(of);
    if (!inner) return null;
    return {
      first: shiftedDay(inner.first, months, days),
      last: shiftedDay(inner.last, months, days),
    };
  }

  daysOf(at) {
    const [kind, of, months, days] = this.node(at);
    if (kind !== "shifted") return eachDay(this.daySpan(at));
    return this.daysOf(of).map((day) => shiftedDay(day, months, days));
  }

  // Every number that a term may be; null among them where it has no value.
  numbers(at) {
    return this.once("numbers", at, () => this.numbersOf(this.node(at)));
  }

  numbersOf([kind, of, ...members]) {
    switch (kind) {
      case "constant":
        return [of];
      case "number of":
        return [this.values.get(of) ?? null];
      case "row of":
        return [this.node(members[0]).get(this.values.get(of)) ?? null];
      case "years":
        return this.yearsBetween(this.daySpan(of), this.daySpan(members[0]));
      case "cases": {
        const rows = this.inPlay([of, ...members], (when) => this.rowHolds(when));
        const found = distinct(rows.flatMap(([, value]) => this.numbers(value)));
        return found.length <= MOST_READINGS ? found : [null];
      }
    }
    const terms = this.ruleset.operands([kind, of, ...members]);
    const several = terms.map((term) => this.numbers(term));
    if (readingsOf(several) > MOST_READINGS) return [null];
    const found = [];
    for (const known of product(several)) {
      found.push(known.includes(null) ? null : this.workedOut(kind, known, members));
    }
    return distinct(found);
  }

  yearsBetween(born, then) {
    if (!born || !then) return [null];
    const [first, last] = [
      completedYears(born.last, then.first), completedYears(born.first, then.last),
    ];
    return eachDay({ first, last }).map((years) => ratio(BigInt(years)));
  }

  workedOut(kind, known, members) {
    switch (kind) {
      case "minimum":
      case "maximum":
        return extreme(kind, known);
      case "rounded":
      case "rounded down":
        return rounded(known[0], members[0], kind === "rounded down");
      case "row at":
        return this.node(members[0]).get(keyOf(known[0])) ?? null;
      case "sqrt":
      case "log10":
      case "ten-to":
        return called(kind, known[0]);
      default:
        return calculated(known[0], kind, known[1]);
    }
  }
}
