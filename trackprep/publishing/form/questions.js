// Which facts are still to be asked for: as trackprep/rider/asking.py, asking_relevance.py and
// analysis/domains.py. A question is asked while some value of its fact can still settle a rule;
// where that takes too much to tell, it counts as one that can.

const MOST_TRIED = 1500;  // answers of a rule that are worked out for one fact
const MOST_MEMBERS = 5;  // choices of a set that are tried in all combinations
const FIRST_SUNDAY = 730121;  // 2 January 2000: week codes begin there
const SHARED_KEYS = ["ask", "how", "caution", "heading", "section", "choices"];

// The facts of a page with what trackprep/publishing/form/facts.py left out filled in.
function expandedFacts(plain) {
  const facts = [];
  for (const given of plain) {
    const fact = { ...given };
    for (const key of SHARED_KEYS) {
      if (typeof fact[key] === "number") fact[key] = facts[fact[key]][key];
      else if (key === "choices" && fact[key]) fact[key] = fact[key].map(expandedChoice);
    }
    fact.heading ??= fact.section;
    facts.push(fact);
  }
  return facts;
}

function expandedChoice(choice) {
  const [word, spoken, ...also] = [choice].flat();
  const inWords = word === word.toLowerCase() && word !== word.toUpperCase();
  return [word, spoken || (inWords ? word.replaceAll("-", " ") : word), ...also];
}

// One event with what a declaration answers there: what every view of the page goes by.
function sittingOf(event, ruleset, values, day) {
  const read = ruleset.read(values, day);
  return { event, ruleset, values, day, reading: read.reading, checked: ruleset.check(read) };
}

// What is to be asked, in order: [{path, why}]. `form.facts` are expanded; `unknown` is the Set
// of the paths that the rider does not know.
function openQuestions(form, sittings, unknown) {
  const byPath = new Map(form.facts.map((fact) => [fact.path, fact]));
  const asking = sittings.map((sitting) => new Asking(sitting, byPath, unknown));
  const waiting = new Set(asking.flatMap(({ open }) =>
    open.flatMap(({ declare, narrow }) => [...declare, ...narrow])));
  return form.facts
    .filter(({ path, inspector }) => !inspector && waiting.has(path) && !unknown.has(path))
    .map(({ path }) => ({ path, why: whyAsked(path, asking) }))
    .filter(({ path, why }) => why === "too coarse" || asking.some((one) => one.canChange(path)));
}

function whyAsked(path, asking) {
  if (asking.some(({ future }) => future.includes(path))) return "after the event";
  // What one event settles itself is not declared, and another may ask for it.
  return asking.some(({ values }) => Object.hasOwn(values, path)) ? "too coarse" : "undeclared";
}

// What one event still asks for.
class Asking {
  constructor({ event, ruleset, values, day, reading, checked }, facts, unknown) {
    const { values: known } = reading;
    const answers = checked.answers.map((answer, rule) => ({ ...answer, rule }));
    Object.assign(this, { ruleset, day, values, known, future: checked.future, trials: [] });
    this.open = answers.filter(({ status }) => status === "unsettled");
    this.facts = ruleset.facts.map(({ path, kind }) => ({ ...facts.get(path), kind }));
    const places = [...unknown].map((path) => ruleset.places.get(path));
    this.never = new Set(places.filter((fact) => !known.has(fact)));
    this.turns = new Map(event.trials.map(([test, turns]) => [test, new Map(turns)]));
    this.byRows = new Set(event.trials.filter(([, , rows]) => rows).map(([test]) => test));
  }

  canChange(path) {
    const fact = this.ruleset.places.get(path);
    return this.open.some(({ declare, rule }) => declare.includes(path)
      && (this.trials[rule] ??= new RuleTrial(this, rule)).someSettles(fact));
  }
}

// A rule, tried on values of its facts, one for each region that its tests tell apart.
class RuleTrial {
  constructor(asking, rule) {
    const { ruleset, known, never, byRows } = asking;
    Object.assign(this, { asking, ruleset, asked: ruleset.rules[rule][2], options: new Map() });
    const both = this.asked.flatMap(([, when, demand]) => [demand, when]);
    const tests = [...new Set(both.flatMap((at) => leavesUnder(ruleset, at)))];
    const names = new Set(tests.flatMap((test) => ruleset.named(test)));
    this.known = new Map([...known].filter(([fact]) => names.has(fact)));
    const stays = (test) => ruleset.named(test).some((fact) => never.has(fact));
    this.tests = new Map(tests.filter((test) => !stays(test)).map((test) =>
      [test, [...new Set(ruleset.named(test))].filter((fact) => !known.has(fact))]));
    // A formula's row may be known without the facts that stay unknown.
    this.tooMuch = tests.some((test) => stays(test) && byRows.has(test)) || !this.fillOptions();
  }

  reading(picked = []) {
    return new Reading(this.ruleset, new Map([...this.known, ...picked]), this.asking.day);
  }

  // The values to try; false where some may be missing.
  fillOptions() {
    const isSet = (fact) => this.asking.facts[fact].kind === "several of";
    const facts = [...new Set([...this.tests.values()].flat())];
    for (const fact of facts.sort((one, other) => isSet(one) - isSet(other))) {
      const naming = [...this.tests.keys()].filter((at) => this.tests.get(at).includes(fact));
      const values = this.valuesOf(fact, naming);
      if (!values) return false;
      const together = isSet(fact) || naming.some((test) => this.tests.get(test).length > 1);
      this.options.set(fact, together ? values : this.toldApart(fact, values, naming));
    }
    return true;
  }

  // Of the values that no test tells apart, one.
  toldApart(fact, values, naming) {
    const found = values.map((value) => {
      const reading = this.reading([[fact, value]]);
      return [naming.map((test) => reading.possible(test)).join(), value];
    });
    return [...new Map(found).values()];
  }

  isSettled(picked) {
    const reading = this.reading(picked);
    const statuses = this.asked.map(([, when, demand]) => statusOf(when, demand, reading));
    return statuses.includes("not-met") || !statuses.includes("unsettled");
  }

  // Whether, with some of the other facts declared, this one settles what is not settled yet.
  // What is settled once stays so, so nothing is added to it.
  someSettles(fact) {
    if (this.tooMuch) return true;
    const own = this.options.get(fact) ?? [];
    const others = [...this.options].filter(([other]) => other !== fact);
    const waiting = [[[], 0]];
    for (let tried = 0; waiting.length;) {
      const [picked, start] = waiting.pop();
      tried += 1 + own.length;
      if (tried > MOST_TRIED) return true;
      if (this.isSettled(picked)) continue;
      if (own.some((value) => this.isSettled([...picked, [fact, value]]))) return true;
      others.slice(start).forEach(([other, values], place) => {
        for (const value of values) waiting.push([[...picked, [other, value]], start + place + 1]);
      });
    }
    return false;
  }

  // ---- values, one at least for each region ------------------------------------

  // Null where some may be missing.
  valuesOf(fact, naming) {
    const { kind, choices, ...range } = this.asking.facts[fact];
    const { nodes } = this.ruleset;
    if (kind === "yes or no") return [true, false];
    if (kind === "several of") return subsetsOf(naming.flatMap((test) => nodes[test].slice(3)));
    if (choices) return choices.map(([word]) => word);
    const turns = naming.map((test) => this.turnsOf(fact, kind, test));
    if (turns.includes(null)) return null;
    if (kind === "number") return numbersAround(turns.flat(), range);
    return daysAround(turns.flat(), kind, this.asking.day);
  }

  // Where a test may change its answer as one fact moves; null where that is not told.
  turnsOf(fact, kind, test) {
    const told = this.asking.turns.get(test)?.get(fact);
    if (told) return told.map(rational);
    if (this.tests.get(test).length > 1) return null;
    const [which, ...ends] = this.ruleset.nodes[test];
    const isRange = which === "between";
    if (isRange && this.namesCoarse(test)) return null;
    const turns = (isRange ? ends : [test]).map((end) =>
      (kind === "number" ? this.turningNumbers(fact, end) : this.turningDays(fact, end)));
    return turns.includes(null) ? null : turns.flat();
  }

  namesCoarse(test) {
    return this.ruleset.named(test).some((fact) => isCoarse(this.known.get(fact)));
  }

  // Of a declared number beside a known one.
  turningNumbers(fact, test) {
    const { nodes } = this.ruleset;
    const sides = [nodes[test][1], nodes[test][3]];
    const known = sides.filter((side) => !this.ruleset.named(side).includes(fact));
    const own = sides.filter((side) => nodes[side][0] === "number of" && nodes[side][1] === fact);
    if (known.length !== 1 || own.length !== 1) return null;
    return this.reading().numbers(known[0]).filter((number) => number !== null).flatMap(endsOf);
  }

  // Of a date that is named once, where its test changes in one direction only.
  turningDays(fact, test) {
    const { nodes } = this.ruleset;
    const [kind, left, comparison, right] = nodes[test];
    const names = this.ruleset.named(test);
    if (names.indexOf(fact) !== names.lastIndexOf(fact)) return null;
    if (kind === "day" && comparison.endsWith("equal")) {
      if (this.namesCoarse(test)) return null;
      return ["at least", "at most"].flatMap((order) =>
        this.daysOfChange(fact, (reading) => reading.dayTruths([kind, left, order, right])));
    }
    const kinds = () => [left, right].map((side) => nodes[side][0]).sort().join();
    if (kind === "number" && (kinds() !== "constant,years" || comparison.endsWith("equal"))) {
      return null;
    }
    return this.daysOfChange(fact, (reading) => reading.possible(test));
  }

  daysOfChange(fact, found) {
    const on = (day) => [day, found(this.reading([[fact, oneDay(day)]]))];
    const waiting = [[on(dayNumber(FIRST_YEAR, 1, 1)), on(dayNumber(LAST_YEAR, 12, 31))]];
    const days = [];
    while (waiting.length) {
      const [[low, atLow], [high, atHigh]] = waiting.pop();
      if (atLow === atHigh) continue;
      const middle = on((low + high) >> 1);
      if (high - low === 1) days.push(high);
      else waiting.push([[low, atLow], middle], [middle, [high, atHigh]]);
    }
    return days;
  }
}

// The tests that a condition is made of.
function leavesUnder(ruleset, at) {
  const [kind, ...members] = ruleset.nodes[at];
  if (!JOINED.has(kind)) return [at];
  const parts = kind === "some of" ? members.slice(1) : members;
  return parts.filter((part) => part >= 0).flatMap((part) => leavesUnder(ruleset, part));
}

function subsetsOf(words) {
  const several = [...new Set(words)];
  if (several.length > MOST_MEMBERS) return null;
  return several.reduce((sets, word) => [...sets, ...sets.map((set) => new Set([...set, word]))],
    [new Set()]);
}

// Each of the places in the range, and a number of each gap between them.
function numbersAround(places, range) {
  const { low, high, whole } = range;
  const lies = (one) => !liesOutside(one, range);
  const ends = [low, high].filter((end) => end).map(rational);
  const points = distinct([...places.filter(lies), ...ends]).sort(compare);
  if (!points.length) points.push(ratio(0n));
  const gaps = points.slice(1).map((point, place) => over(plus(points[place], point), ratio(2n)));
  const beyond = [minus(points[0], ratio(1n)), plus(points.at(-1), ratio(1n))];
  const nextWhole = ({ n, d }) => [ratio(floored(n, d)), ratio(-floored(-n, d))];
  const all = [...points, ...gaps, ...beyond];
  return distinct((whole ? all.flatMap(nextWhole) : all).filter(lies));
}

// A day of each stretch between the cuts; weeks at and next to each.
function daysAround(cuts, kind, event) {
  const last = kind === "date" ? dayNumber(LAST_YEAR, 12, 31) : event;
  const first = dayNumber(FIRST_YEAR, 1, 1);
  if (kind !== "week code") {
    return [...new Set([first, ...cuts])].filter((day) => day <= last).map(oneDay);
  }
  const near = cuts.flatMap((cut) => [-7, 0, 7].map((days) => cut - (cut % 7) + days));
  return [...new Set([FIRST_SUNDAY, event - (event % 7), ...near])]
    .filter((sunday) => FIRST_SUNDAY <= sunday && sunday <= event)
    .map((sunday) => ({ first: sunday, last: Math.min(sunday + 6, event) }));
}
