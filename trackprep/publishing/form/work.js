// What is left to do, to get, to bring and to put back: as trackprep/rider/work, from work.py.

const HOME = "at home", PADDOCK = "in the paddock";

// The work list of one declaration at the events of one day. `arrival` is "ridden", "carried",
// or null: ridden where the machine is declared to be registered for the road. `words` are
// plain_words. Times are {minutes (a rational as text), untimed (how many have no time)}.
function workList(sittings, { arrival, today, words }) {
  const registered = registeredIn(sittings, words.registered);
  const comes = arrival ?? (registered ? "ridden" : "carried");
  const jobs = jobsInOrder(sittings, comes);
  const road = roadReturn(sittings, jobs, registered, comes, words);
  const steps = [...road.leaving, ...road.later];
  return {
    arrival: comes, jobs: jobs.map(finishedJob), road,
    buy: partsToBuy(jobs, steps, sittings[0].day, today),
    borrow: wantedThings(jobs, steps, ({ tools }) => tools),
    pack: packedThings(sittings, jobs, road.leaving),
    inspector: sittings.flatMap(({ ruleset, checked: { answers } }, event) => answers.flatMap(
      (answer, rule) => (ruleset.waitsForInspector(answer) ? [{ event, rule }] : []))),
  };
}

// Whether the machine is registered for the road; null if that is not declared.
function registeredIn(sittings, path) {
  const known = sittings.map((one) => one.reading.values.get(one.ruleset.places.get(path)));
  return known.find((value) => typeof value === "boolean") ?? null;
}

// What the rules that apply or may apply ask, part by part.
function partsAsked({ ruleset, checked, event: { work } }) {
  return work.rules.flatMap((own, rule) => (checked.answers[rule].status === "not-asked" ? []
    : own.asked.map((asked, at) => ({ rule, own, asked, nodes: ruleset.rules[rule][2][at] }))));
}

const eachOnce = (several) => [...new Set(several)];
const worksIn = ({ event: { work: { works } } }, numbers = []) => numbers.map((n) => works[n]);
const mayHold = ({ reading }, node) => node === undefined || reading.holds(node) !== false;

// ---- work that several rules and events share ----

// The same words are one; so are those of a rule that two events have from one base. `found`
// gives what a sitting has, `take` keeps of it what `joinWork` does not.
function gatheredWork(sittings, found, take) {
  const [byWords, byOrigin] = [new Map(), new Map()];
  sittings.forEach((sitting, event) => {
    for (const one of found(sitting)) {
      const { rule, own: { base = sitting.event.work.base }, nodes: [part], work, place } = one;
      const origin = JSON.stringify([base, sitting.ruleset.rules[rule][0], part, place]);
      const made = byWords.get(work.text) ?? byOrigin.get(origin) ?? emptyWork();
      byWords.set(work.text, made);
      if (base && !byOrigin.has(origin)) byOrigin.set(origin, made);
      take(made, one, sitting, event);
      joinWork(made, event, one);
    }
  });
  return eachOnce(byWords.values());
}

// `serves` has each rule of each event once, by its key, with all its parts.
function emptyWork() {
  return {
    texts: new Map(), serves: new Map(), parts: [], tools: new Set(), cautions: new Set(),
    before: new Set(), after: [], declared: new Set(),
    spot: HOME, level: "recommended", later: false, sure: false, point: -1,
  };
}

const addAll = (set, several = []) => several.forEach((one) => set.add(one));
const ruleKey = (event, rule) => `${event} ${rule}`;
const placesOf = (works, key) =>
  works.flatMap(({ serves }, place) => (serves.has(key) ? [place] : []));

function joinWork(made, event, { rule, asked: { label }, work }) {
  const { text, takes, parts = [], tools, cautions } = work;
  made.texts.set(text, new Set(made.texts.get(text)).add(event));
  const key = ruleKey(event, rule);
  const served = new Set(made.serves.get(key)?.parts);
  made.serves.set(key, { event, rule, parts: [...(label ? served.add(label) : served)] });
  const longer = () => compare(rational(takes), rational(made.takes)) > 0;
  if (takes && (!made.takes || longer())) made.takes = takes;
  made.parts.push(...parts);
  addAll(made.tools, tools);
  addAll(made.cautions, cautions);
}

function toldOfWork({ texts, serves, takes, parts, tools, cautions }) {
  return {
    texts: [...texts].map(([text, events]) => [text, [...events]]),
    serves: [...serves.values()],
    takes: takes ? { minutes: takes, untimed: 0 } : { minutes: "0", untimed: 1 },
    parts: eachOnce(parts.map(([name]) => name)),
    tools: [...tools], cautions: [...cautions],
  };
}

// Each after those `before` it, of those that may be next the first; in a circle too.
function inWorkingOrder(works) {
  const left = new Set(works.keys());
  const waits = (one) => [...works[one].before].some((first) => first !== one && left.has(first));
  return works.map(() => {
    const next = [...left].find((one) => !waits(one)) ?? Math.min(...left);
    left.delete(next);
    return next;
  });
}

// ---- jobs ----

// In the order of their numbers; `before` holds places in it.
function jobsInOrder(sittings, arrival) {
  const made = gatheredWork(sittings, missingWork, (job, { rule, own, work }, sitting, event) => {
    const undone = own.asked.some(({ undos }) => undos);
    const spot = work.where ?? (undone && arrival === "ridden" ? PADDOCK : HOME);
    if (spot === PADDOCK) job.spot = spot;
    if (sitting.ruleset.rules[rule][1] === "required") job.level = "required";
    addAll(job.cautions, own.cautions);
    job.after.push([event, work.after]);
  });
  putJobsBefore(made, sittings);
  moveToThePaddock(made);
  const list = (place) => 2 * (made[place].level !== "required") + (made[place].spot !== HOME);
  const order = inWorkingOrder(made).sort((one, other) => list(one) - list(other));
  for (const job of made) job.before = new Set([...job.before].map((old) => order.indexOf(old)));
  return order.map((old) => made[old]);
}

// For each part not met the first way that may hold; a rule that says none is still to be met.
function missingWork(sitting) {
  const { reading, event: { rules } } = sitting;
  const isMissing = ({ nodes: [, when, demand] }) => statusOf(when, demand, reading) === "not-met";
  const chosen = ({ asked }) =>
    worksIn(sitting, asked.fixes).find((fix) => mayHold(sitting, fix.when));
  const parts = partsAsked(sitting).filter(isMissing).map((one) => ({ ...one, work: chosen(one) }));
  const told = new Set(parts.filter(({ work }) => work).map(({ rule }) => rule));
  const meet = (rule) => ({ text: `Meet the rule “${rules[rule].title}”.` });
  return parts.filter(({ rule, work }) => work || !told.has(rule)).map((one) =>
    (one.work ? one : { ...one, asked: {}, nodes: [null], work: meet(one.rule) }));
}

// After the jobs of the rules that come first; where one has none, after those it would follow.
function putJobsBefore(made, sittings) {
  made.forEach((job, place) => {
    for (const [event, after] of job.after) {
      const reached = new Set(after);
      for (const rule of reached) {
        const jobs = placesOf(made, ruleKey(event, rule));
        if (jobs.length) addAll(job.before, jobs);
        else addAll(reached, sittings[event].event.work.rules[rule].after);
      }
    }
    job.before.delete(place);
  });
}

// What follows work in the paddock is done there too, but for what is only recommended.
function moveToThePaddock(made) {
  const holdsUp = (job) => (place) =>
    made[place].spot === PADDOCK && ["required", job.level].includes(made[place].level);
  const next = () => made.find((job) => job.spot === HOME && [...job.before].some(holdsUp(job)));
  for (let job = next(); job; job = next()) job.spot = PADDOCK;
}

function finishedJob(job, place) {
  const after = [...job.before].map((first) => first + 1).sort((one, other) => one - other);
  return { number: place + 1, ...toldOfWork(job), level: job.level, spot: job.spot, after };
}

// Each thing once, with the jobs that it is for, and whether it is for the way to the road.
function wantedThings(jobs, steps, namesOf) {
  const wanted = new Map();
  const want = (name) =>
    wanted.get(name) ?? wanted.set(name, { name, jobs: [], road: false }).get(name);
  jobs.forEach((job, place) => {
    for (const name of namesOf(toldOfWork(job))) want(name).jobs.push(place + 1);
  });
  for (const step of steps) for (const name of namesOf(step)) want(name).road = true;
  return [...wanted.values()];
}

// The most urgent first; ordered on the day `by`, a part is there the day before the event.
function partsToBuy(jobs, steps, day, today) {
  const dated = jobs.flatMap(({ parts }) => parts).filter(([, allow]) => allow)
    .map(([name, allow, days, months = 0]) =>
      ({ name, allow, by: added(day - 1, -months, -days) ?? FIRST_DAY }))
    .sort((one, other) => one.by - other.by);
  const found = wantedThings(jobs, steps, ({ parts }) => parts).map((part) => {
    const first = dated.find(({ name }) => name === part.name) ?? { allow: "", by: null };
    return { ...part, ...first, late: first.by !== null && first.by < today };
  });
  const urgency = ({ by }) => by ?? END_OF_CALENDAR;
  return found.sort((one, other) => urgency(one) - urgency(other));
}

// What the rules say to bring, and what the work there and before the way home takes.
function packedThings(sittings, jobs, leaving) {
  const there = [...jobs.filter(({ spot }) => spot === PADDOCK).map(toldOfWork), ...leaving];
  const all = (what) => eachOnce(there.flatMap((one) => one[what]));
  const brings = eachOnce(sittings.flatMap(thingsToBring));
  return { brings, tools: all("tools"), parts: all("parts") };
}

function thingsToBring(sitting) {
  const { brings = [], sections = [] } = sitting.event.work;
  const applying = sections.filter(([, when]) => mayHold(sitting, when)).flatMap(([said]) => said);
  return [...brings, ...applying, ...partsAsked(sitting).flatMap(({ own }) => own.brings ?? [])];
}

// ---- back on the road ----

// What comes before the machine is ridden away, and what is for later; carried, all of it.
function roadReturn(sittings, jobs, registered, arrival, { cool: [cool, ...cautions], points }) {
  if (registered === false) return { registered, leaving: [], later: [] };
  const undos = undosInOrder(sittings);
  const steps = (some) => undos.filter(some).map((undo) => undoingStep(undo, jobs, points));
  const about = (point) => steps((undo) => !undo.later && undo.point === point);
  const riding = [...about(-1), ...points.flatMap(([point, look], place) =>
    [...about(place), plainStep(look, { point })])];
  const later = steps((undo) => undo.later);
  if (arrival === "carried") return { registered, leaving: [], later: [...later, ...riding] };
  return { registered, leaving: [plainStep(cool, { cautions }), ...riding], later };
}

// What was done last goes back first: tape comes off before a lamp behind it is lit.
function undosInOrder(sittings) {
  const undos = gatheredWork(sittings, worksToUndo, takeUndo);
  for (const [place, { serves }] of undos.entries()) {
    for (const { event, rule } of serves.values()) {
      const firsts = sittings[event].event.work.rules[rule].after ?? [];
      const later = firsts.flatMap((first) => placesOf(undos, ruleKey(event, first)));
      for (const one of later) undos[one].before.add(place);
    }
  }
  return inWorkingOrder(undos).map((place) => undos[place]);
}

function worksToUndo(sitting) {
  const applying = partsAsked(sitting).filter(({ nodes }) => mayHold(sitting, nodes[1]));
  const undos = applying.flatMap((one) =>
    worksIn(sitting, one.asked.undos).map((work, place) => ({ ...one, place, work })));
  return undos.filter(({ work }) => mayHold(sitting, work.when));
}

function takeUndo(undo, { asked, nodes: [, when, demand], work }, { reading, ruleset }) {
  const holds = (node) => node === undefined || reading.holds(node) === true;
  undo.sure ||= holds(work.when) && holds(when);
  undo.later ||= asked.later === true;
  undo.point = Math.max(undo.point, asked.point);
  if (!holds(demand)) return;  // the work is still to be done
  addAll(undo.declared, ruleset.pathsOf(asked.facts.filter((fact) => reading.values.has(fact))));
}

function plainStep(text, given) {
  return {
    ...toldOfWork(emptyWork()), texts: [[text, []]], point: "", declared: [], jobs: [],
    onlyIf: false, ...given, takes: { minutes: "0", untimed: 0 },
  };
}

// `declared` are the facts declared of it, where they are as the rules ask; `jobs` those undone.
function undoingStep(undo, jobs, points) {
  const isUndone = ({ serves }) => [...serves.keys()].some((key) => undo.serves.has(key));
  const undone = jobs.flatMap((job, place) => (isUndone(job) ? [place + 1] : []));
  return {
    ...toldOfWork(undo), point: points[undo.point]?.[0] ?? "", declared: [...undo.declared],
    jobs: undone, onlyIf: !undo.sure,
  };
}

// ---- in words: as trackprep/reports/worklist/wording.py ----

// Whole minutes, rounded up.
function timeText(minutes) {
  const { n, d } = rational(minutes);
  const whole = -floored(-n, d);
  const [hours, rest] = [whole / 60n, whole % 60n];
  return [hours && `${hours} h`, (rest || !hours) && `${rest} min`].filter(Boolean).join(" ");
}

function totalTime(several) {
  const sum = several.reduce((all, { takes }) => plus(all, rational(takes.minutes)), ratio(0n));
  const untimed = several.reduce((all, { takes }) => all + takes.untimed, 0);
  return { minutes: `${sum.n}/${sum.d}`, untimed };
}

function totalText({ minutes, untimed }) {
  if (!rational(minutes).n) return "no time is given";
  return timeText(minutes) + (untimed ? `, and ${counted(untimed, "job")} without a time` : "");
}

const jobsText = (numbers) => `${numbers.length === 1 ? "job" : "jobs"} ${listed(numbers)}`;

function usesText({ jobs, road }) {
  const uses = jobs.length ? [jobsText(jobs)] : [];
  return `for ${listed(road ? [...uses, "the way back to the road"] : uses)}`;
}
