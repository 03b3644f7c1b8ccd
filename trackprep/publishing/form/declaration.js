// What a declaration says, and what an answer that is typed would say there; as
// trackprep/rules/reading.py and rider/asking_answers.py read them.

const [MOST_FAULTS, MOST_NAMED] = [200, 12];

const factMaps = new WeakMap();

// The facts of a form by their paths.
function factsByPath(form) {
  if (!factMaps.has(form)) factMaps.set(form, new Map(form.facts.map((fact) => [fact.path, fact])));
  return factMaps.get(form);
}

// What a text declares: its `title` and day `declaredOn` or null, `given` {written, plain or
// problem, line} by path, the paths `notKnown`, entries of facts that the form does not know
// (`strangers`), and what cannot be read (`problems`), with the `path` where it is a value.
function readDeclaration(text, form) {
  const read = new RiderText(text);
  const problems = [...read.mistakes];
  const told = (line, message, path) =>
    problems.length < MOST_FAULTS && problems.push({ line, message, path });
  const heads = {};
  for (const { kind, line, value, day } of read.clauses) {
    if (kind !== "title" && kind !== "day") continue;
    if (kind in heads) told(line, "This stands here a second time: keep one of the two.");
    else if (kind === "title") heads.title = value;
    else {
      const [first, last] = spanOf(day.text).plain ?? [];
      heads.day = first === last ? first : undefined;
      if (heads.day === undefined) {
        told(day.line, `${shortly(day.text)} is no day: write one like \`2026-06-10\`.`);
      }
    }
  }
  const [given, strangers] = [new Map(), []];
  for (const entry of read.entries) {
    const { path, line, values } = entry;
    const [fact, written] = [factsByPath(form).get(path), read.spelling(entry)];
    if (!fact) strangers.push({ path, written, line });
    else if (given.get(path)?.plain !== undefined) {
      told(line, `\`${path}\` is declared a second time: keep one of the two.`, path);
    } else {
      const { plain, problem, at = values[0] } = valueOfFact(fact, values, form.units);
      given.set(path, { written, plain, problem, line });
      if (problem) told(at?.line ?? line, problem, path);
    }
  }
  problems.sort((one, other) => one.line - other.line);
  const { title = null, day: declaredOn = null } = heads;
  return { title, declaredOn, given, notKnown: notKnown(text), strangers, problems };
}

// {path: plain} of what can be read.
function plainValues({ given }) {
  const read = [...given].filter(([, { plain }]) => plain !== undefined);
  return Object.fromEntries(read.map(([path, { plain }]) => [path, plain]));
}

const FLAGS_TYPED = new Map([
  ["yes", true], ["y", true], ["true", true], ["no", false], ["n", false], ["false", false],
]);

// {plain} of the values behind `is`, or {problem}; `at` is the one of several that is wrong.
function valueOfFact(fact, values, units) {
  if (fact.kind === "several of") return chosenSet(fact, values);
  const [value] = values;
  const wrong = (what) => ({ problem: `${what}: write ${valueWords(fact, units)}.` });
  if (values.length !== 1) return wrong("This takes one value");
  const { kind, text } = value;
  switch (fact.kind) {
    case "one of": case "graded": return chosenWord(fact, value);
    case "yes or no": {
      const plain = text.length > 1 ? FLAGS_TYPED.get(text.toLowerCase()) : undefined;
      return plain === undefined ? wrong(`${shortly(text)} is neither`) : { plain };
    }
    case "week code": return weekOf(text);
    case "text": return { plain: text };
    case "number":
      return kind === "number" || kind === "quantity" ? readAmount(text, fact, units)
        : wrong(`${shortly(text)} is no number`);
    default:
      return ISO_DATE.test(text) ? spanOf(text) : wrong(`${shortly(text)} is not read as a date`);
  }
}

function valueWords(fact, units) {
  switch (fact.kind) {
    case "yes or no": return "`yes` or `no`";
    case "number": return amountWords(fact, units);
    case "text": return "words in quotes";
    case "week code": return dateWords(fact);
    case "date": case "past date":
      return "`2023-04-17`, or `2023-04` or `2023` if no more is known";
    default: {
      const words = wordsOf(fact).map((word) => `\`${quotedWord(word)}\``);
      if (words.length > MOST_NAMED) words.splice(MOST_NAMED, Infinity, "…");
      const several = fact.kind === "several of";
      return `${several ? "any" : "one"} of ${words.join(", ")}${several ? ", or `none`" : ""}`;
    }
  }
}

const choicesOf = ({ choices }) => choices.map((each) => [each].flat(1));
const wordsOf = (fact) => choicesOf(fact).map(([word]) => word);
const quotedWord = (word) => (
  /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(word) && !RESERVED_WORDS.has(word) ? word : `"${word}"`);

function chosenWord(fact, { kind, text }) {
  if (kind !== "quantity" && wordsOf(fact).includes(text)) return { plain: text };
  const meant = meantWords(fact, text);
  const wanted = meant.length === 1 ? `\`${quotedWord(meant[0])}\`` : valueWords(fact);
  return { problem: `${shortly(text)} is none of the choices: write ${wanted}.` };
}

function chosenSet(fact, values) {
  const found = new Set();
  for (const at of values) {
    const { plain, problem } = chosenWord(fact, at);
    if (problem) return { problem, at };
    if (found.has(plain)) {
      return { problem: `\`${plain}\` stands in this list twice: take one of the two out.`, at };
    }
    found.add(plain);
  }
  return { plain: [...found].sort() };
}

// ---- answers ----------------------------------------------------------------

const straightQuotes = (text) => text.replace(/[‘’ʼ´`]/g, "'").replace(/[“”]/g, '"');

// What an answer declares: {written, plain}, or {problem}. A past date does not lie after `day`.
function readAnswer(fact, typed, form, day) {
  const { said, comment, problem } = partedTyped(typed);
  if (problem) return { problem };
  switch (fact.kind) {
    case "number": return readAmount(typed, fact, form.units);
    case "date": case "past date": case "week code": return readDate(typed, fact, day);
    case "text": return trimmed(typed) ? asDeclared(fact, inQuotes(trimmed(typed)), "", form)
      : { problem: "Write any words." };
    case "yes or no": {
      const flag = FLAGS_TYPED.get(said.toLowerCase().replace(/\.+$/, ""));
      return asDeclared(fact, flag === undefined ? said : flag ? "yes" : "no", comment, form);
    }
    default: {
      const chosen = spelledChoices(fact, said);
      return chosen.problem ? chosen : asDeclared(fact, chosen.written, comment, form);
    }
  }
}

function asDeclared(fact, written, comment, form) {
  const { clauses: [{ values }, ...more], mistakes } = new RiderText(`a is ${written}\n`);
  const { plain, problem } = mistakes.length || more.length
    ? { problem: `${shortly(written)} is not read here: write ${valueWords(fact)}.` }
    : valueOfFact(fact, values, form.units);
  return problem ? { problem } : { written: written + comment, plain };
}

function inQuotes(typed) {
  const own = typed.length > 1 && /^".*"$/.test(straightQuotes(typed));
  return `"${(own ? typed.slice(1, -1) : typed).replace(/[\\"]/g, "\\$&")}"`;
}

// {written} of choices that are typed as words, labels or other names, with commas between.
function spelledChoices(fact, said) {
  const whole = spelledChoice(fact, said);
  if (whole.written) return whole;
  if (fact.kind === "several of" && /^none( of (them|these))?$/.test(alikeText(said))) {
    return { written: "none" };
  }
  const words = said.split(",").map(trimmed).filter(Boolean).map((one) => spelledChoice(fact, one));
  if (words.length < 2) return whole;
  return words.find(({ problem }) => problem)
    ?? { written: words.map(({ written }) => written).join(", ") };
}

function spelledChoice(fact, said) {
  const text = trimmed(straightQuotes(said)).replace(/^"+|"+$/g, "");
  const meant = wordsOf(fact).includes(text) ? [text] : meantWords(fact, text);
  if (meant.length === 1) return { written: quotedWord(meant[0]) };
  if (!meant.length) return chosenWord(fact, { text });
  const either = listed(meant.map((word) => `\`${word}\``), "or");
  return { problem: `${shortly(said)} may be more than one of them: write ${either}.` };
}

// A word without what people do not mind: capitals, hyphens, spaces.
const alikeText = (text) =>
  trimmed(straightQuotes(text).toLowerCase().replace(/-/g, " ")).replace(/\s+/g, " ");

function meantWords(fact, text) {
  const plain = alikeText(text);
  return choicesOf(fact).filter(([word, spoken, also]) =>
    [word, spoken || word, also ?? []].flat().some((name) => alikeText(name) === plain),
  ).map(([word]) => word);
}
