// From which day on a rule answers otherwise, with nothing of the declaration changed: as
// trackprep/rider/lookahead.py, by the days of trackprep/analysis/turning.py.
//
// The event has a part in an answer in two ways only: through the tests that name its day, and
// through the days of past dates that lie after it. A test of one date against the event goes one
// way as the event moves, so that equal answers on two days are those of all days between.

const BADNESS = { "not-asked": 0, "met": 0, "unsettled": 1, "not-met": 2 };
const PAST = new Set(["past date", "week code"]);
const EACH_DAY = null;
const turnings = new WeakMap();

// Of one sitting always the same, which keeps what it has worked out.
function turningOf(sitting) {
  if (!turnings.has(sitting)) turnings.set(sitting, new Turning(sitting));
  return turnings.get(sitting);
}

// What turns at each event, in order of the days: [{event, rule, from, status, was, worse}].
function lookAhead(sittings, first, last) {
  return sittings.flatMap((sitting, event) => {
    const turning = turningOf(sitting);
    const changes = sitting.ruleset.rules.flatMap((_, rule) =>
      turning.changes(rule, first, last).map((change) => ({ event, rule, ...change })));
    return changes.sort((one, other) => one.from - other.from);
  });
}

// One declaration before one ruleset, the day of the event left open.
class Turning {
  constructor({ ruleset, values }) {
    this.ruleset = ruleset;
    this.values = ruleset.valuesOf(values);
    this.laid = new Map([...this.values, ...ruleset.here]);
    this.readings = new Map();
  }

  // What is known on a day.
  on(day) {
    if (!this.readings.has(day)) {
      const { known } = this.ruleset.prepared(this.values, day);
      this.readings.set(day, new Reading(this.ruleset, known, day));
    }
    return this.readings.get(day);
  }

  // The days on which a rule has another status than the day before.
  changes(rule, first, last) {
    const changes = [];
    const [start, ...later] = this.turns(rule, first, last);
    let was = start.answer.status;
    for (const { day, answer: { status } } of later) {
      if (status === was) continue;
      changes.push({ from: day, status, was, worse: BADNESS[status] > BADNESS[was] });
      was = status;
    }
    return changes;
  }

  // What a rule answers on the first day, and on each day up to the last on which that turns.
  turns(rule, first, last) {
    const asked = this.ruleset.rules[rule][2];
    const tests = new Set(asked.flatMap(([, ...both]) => both.flatMap((at) => this.testsOf(at))));
    const days = new Set([first]);
    for (const test of tests) {
      for (const day of this.turningDays(test, first, last)) days.add(day);
    }
    const turns = [];
    let before = null;
    for (const day of [...days].sort((one, other) => one - other)) {
      const answer = this.ruleset.answer(asked, this.on(day));
      const text = JSON.stringify(answer);
      if (text !== before) turns.push({ day, answer });
      before = text;
    }
    return turns;
  }

  // The tests that a condition is made of.
  testsOf(at) {
    const [kind, ...members] = this.ruleset.nodes[at];
    if (!JOINED.has(kind)) return [at];
    const parts = kind === "some of" ? members.slice(1) : members;
    return parts.filter((part) => part >= 0).flatMap((part) => this.testsOf(part));
  }

  // ---- the days of one test -------------------------------------------------

  // Days among which are all on which a test answers otherwise than the day before.
  *turningDays(test, first, last) {
    const cuts = [...new Set(this.daysCut(test, first, last))].sort((one, other) => one - other);
    yield* cuts;
    const watched = this.watchedIn(test);
    if (watched !== EACH_DAY && !watched.length) return;
    const starts = [first, ...cuts];
    for (const [place, start] of starts.entries()) {
      const end = (starts[place + 1] ?? last + 1) - 1;
      if (start < end) yield* this.betweenCuts(test, watched, start, end);
    }
  }

  // The days from which on more is known of a past date, as fewer of its days are to come.
  daysCut(test, first, last) {
    return this.ruleset.named(test).flatMap((fact) => {
      const span = this.laid.get(fact);
      if (!isSpan(span) || !PAST.has(this.ruleset.facts[fact].kind)) return [];
      return eachDay({
        first: Math.max(span.first, first + 1), last: Math.max(Math.min(span.last, last), first),
      });
    });
  }

  // The same where what is known stays as it is.
  *betweenCuts(test, watched, first, last) {
    if (watched === EACH_DAY) {
      yield* eachDay({ first, last });
      return;
    }
    const found = new Set(watched.flatMap((at) => this.turned(at, first, last)));
    const days = [...found].sort((one, other) => one - other);
    yield* days;
    if (!this.namesTwice(test, first)) return;
    // While something watched is open, which of its days count may change every day.
    const starts = [first, ...days];
    for (const [place, start] of starts.entries()) {
      const end = (starts[place + 1] ?? last + 1) - 1;
      if (watched.some((at) => this.isOpen(at, start))) yield* eachDay({ first: start, last: end });
    }
  }

  // What in a test goes one way as the event moves; EACH_DAY where something does not.
  watchedIn(at) {
    const [kind, left, ...members] = this.ruleset.nodes[at];
    switch (kind) {
      case "between":
        return this.joined([left, ...members].map((end) => this.watchedIn(end)));
      case "day":
        if (members[0].endsWith("equal")) return this.hasEvent(left, members[1]) ? EACH_DAY : [];
        return this.oneSided(at, left, members[1]);
      case "age":
        return this.oneSided(at, left, members[0]);
      case "number":
        return this.joined([left, members[1]].map((side) => this.countsIn(side)));
      default:
        return [];
    }
  }

  // The same of the counts of years in a term.
  countsIn(at) {
    const node = this.ruleset.nodes[at];
    if (node[0] === "years") return this.oneSided(at, node[1], node[2]);
    return this.joined(this.ruleset.operands(node).map((term) => this.countsIn(term)));
  }

  joined(parts) {
    return parts.includes(EACH_DAY) ? EACH_DAY : parts.flat();
  }

  oneSided(at, left, right) {
    if (!this.hasEvent(left, right)) return [];
    return this.isEvent(left) && this.isEvent(right) ? EACH_DAY : [at];
  }

  hasEvent(left, right) {
    return this.isEvent(left) || this.isEvent(right);
  }

  isEvent(at) {
    const [kind, of] = this.ruleset.nodes[at];
    return kind === "shifted" ? this.isEvent(of) : kind === "event" || kind === "year start";
  }

  // Whether more than what is watched hangs on which day a coarse date is.
  namesTwice(test, day) {
    const names = this.ruleset.named(test);
    const isCoarseFact = (fact) => isCoarse(this.on(day).values.get(fact));
    const twice = names.some((fact, place) => names.indexOf(fact) !== place && isCoarseFact(fact));
    if (!twice || this.isLongerRange(test)) return false;
    const counts = [...new Set(this.yearsIn(test))].map((at) => this.ruleset.named(at))
      .filter((its) => its.some(isCoarseFact));
    // Every number of years between the least and the most is there.
    return counts.length !== 1 || counts[0].length !== 1;
  }

  // An age from one to a longer one: the event days that do for each day leave no gap.
  isLongerRange(test) {
    const [kind, least, most] = this.ruleset.nodes[test];
    if (kind !== "between") return false;
    const [one, other] = [least, most].map((end) => this.ruleset.nodes[end]);
    const [, of, on, from, months, days, grain] = one;
    const alike = [other[1], other[2], other[6]].join() === [of, on, grain].join();
    const isDay = (at, kinds) => kinds.includes(this.ruleset.nodes[at][0]);
    return one[0] === "age" && other[0] === "age" && alike && from === "at least"
      && other[3] === "at most" && isDay(of, ["day of"]) && isDay(on, ["event", "year start"])
      && (months && other[4] ? months < other[4] : !months && !other[4] && days < other[5]);
  }

  // The counts of years in a test of numbers; none of a test of anything else.
  yearsIn(at) {
    const node = this.ruleset.nodes[at];
    if (node[0] === "years") return [at];
    if (node[0] === "age" || node[0] === "day") return [];
    if (node[0] === "between") {
      const ends = node.slice(1).map((end) => this.yearsIn(end));
      return ends.some((found) => !found.length) ? [] : ends.flat();
    }
    const inner = node[0] === "number" ? [node[1], node[3]] : this.ruleset.operands(node);
    return inner.flatMap((term) => this.yearsIn(term));
  }

  // ---- what is watched ------------------------------------------------------

  counts(at) {
    return this.ruleset.nodes[at][0] === "years";
  }

  isOpen(at, day) {
    if (this.counts(at)) return this.on(day).numbers(at).length > 1;
    return ![TRUE, FALSE, UNKNOWN].includes(this.on(day).possible(at));
  }

  // All that it may be on a day.
  mayBe(at, day) {
    const reading = this.on(day);
    return this.counts(at) ? reading.numbers(at).map(keyOf).join(" ") : reading.possible(at);
  }

  // The days after the first on which it may be something else than the day before.
  turned(at, first, last) {
    if (this.mayBe(at, first) === this.mayBe(at, last)) return [];
    if (last - first === 1) return [last];
    const middle = Math.floor((first + last) / 2);
    return [...this.turned(at, first, middle), ...this.turned(at, middle, last)];
  }
}
