// A declaration's text: tokens, entries, values, and edits that leave all else as it was written.
// As in trackprep/syntax (tokens.py, driver.py, rider.py), rules/reading.py,
// rider/asking_text.py and rider/asking_answers.py.

const [LONGEST_TEXT, LONGEST_WORD, LONGEST_TITLE] = [2000000, 4000, 1000];  // characters
const [MOST_WORDS, MOST_MISTAKES, MOST_FAULTS, MOST_NAMED] = [200000, 100, 200, 12];

const STATEMENT_WORDS = new Set((
  "accept also amend ask bring caution contact core declare derived edition example expect fact "
  + "fix formula here how inspect kind limit list looser note organizer reason recommend require "
  + "rule ruleset section source stricter supplements table undo unless use valid venue vocabulary "
  + "when withdraw"
).split(" "));
const RESERVED_WORDS = new Set([...STATEMENT_WORDS, ...(
  "after allow and any at before between declaration each for includes is it less more no none not "
  + "of on or otherwise parts ready several some takes tools yes"
).split(" ")]);
const BEHIND_NUMBERS = new Set([
  ...RESERVED_WORDS, "to", "as", "for", "unchangeable", "private", "check", "rounded", "row",
]);

// Every unit of the language, `_` for a space: where a number ends must not hang on the rules.
const SPELLED_UNITS = (
  "mm cm m km um|µm in|inch|inches 32nds|32nd thou ft|foot|feet yd mi|mile|miles mm^2|mm2|mm² "
  + "cm^2|cm2|cm² m^2|m2|m² in^2|in2|in²|sq_in cc cm^3|cm3|cm³ mL|ml L|l in^3|in3|in³|cu_in "
  + "fl_oz|fl._oz|US_fl_oz qt|US_qt gal|US_gal imp_fl_oz imp_gal kg g lb|lbs oz s|second|seconds "
  + "ms min|minute|minutes h|hour|hours km/h|kph mph m/s ft/s N kN lbf kgf "
  + "psi|lbf/in^2|lbf/in2|lbf/in² kPa bar Pa hPa MPa mbar kgf/cm^2|kgf/cm2|kgf/cm² atm mmHg inHg "
  + "N*m|Nm N*cm|Ncm lbf*ft|ft*lbf lbf*in|in*lbf kgf*m kgf*cm N/mm kgf/mm lbf/in kW W hp PS % "
  + "m/s^2|m/s2|m/s² rpm|r/min|rev/min|1/min|min^-1 dB|dB(A)|dBA °|deg V mV K °C|degC|℃ "
  + "°F|degF|℉ days|day weeks|week months|month years|year"
).split(" ").map((unit) => unit.replaceAll("_", " ").split("|"));
const USUAL_UNITS = new Map(SPELLED_UNITS.flatMap((unit) => unit.map((each) => [each, unit[0]])));

// ---- tokens -----------------------------------------------------------------

const LETTER = "\\p{L}\\p{N}_";  // what Python's `\w` takes
const NAME_FORM = "[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*";
const UNIT_FORM = [...USUAL_UNITS.keys()].sort((one, other) => other.length - one.length)
  .join("|").replace(/[*^()./]/g, "\\$&").replace(/\\\*/g, "[*·⋅∙]").replace(/°/g, "[°º˚]")
  .replace(/µ/g, "[µμ]").replace(/ /g, " +");
// Gives nothing back of what it took.
const taken = (name, form) => `(?=(?<${name}>${form}))\\k<${name}>`;
const TOKEN_AHEAD = new RegExp(`^(?:${[
  "(?<comment>#)",
  `${taken("word", NAME_FORM)}(?![${LETTER}.])`,
  `${taken("path", `${NAME_FORM}(?:\\.${NAME_FORM})+`)}(?![${LETTER}.])`,
  `(?<misfit>${NAME_FORM}(?:\\.${NAME_FORM})*\\.\\*|[+*/<()[\\]])`,
  '(?<string>"(?:\\\\[^]|[^"\\\\])*"|[“”„](?:\\\\[^]|[^"“”„\\\\])*["“”])',
  `(?<day>\\d{4}-\\d+(?:-\\d+)*(?![${LETTER}.]))`,
  "\\d{1,3}(?: \\d{3})+(?![\\d/.])",
  taken("number", "(?:\\d+ +\\d+/\\d+|\\d+/\\d+|\\d+(?:\\.\\d+)?)(?!\\d|[.,/]\\d|\\.(?![a-z]))")
    + `(?:[ \\t]*(?<unit>${UNIT_FORM})(?![${LETTER}^(°º˚µμ²³%℃℉]|[-.][A-Za-z]`
    + `|[*·⋅∙/][A-Za-z°µ]{1,3}(?![${LETTER}.-]))`
    + `|[ \\t]*(?:${taken("behind", `[\\p{L}\\p{Nl}\\p{No}][${LETTER}/*^·-]*`)}|["”'])`
    + `(?!\\.|[ \\t]+is(?![${LETTER}])))?`,
  "(?<comma>,)",
  "(?<minus>-)",
  `["“”„][^]*|\\d+(?:[.,/][${LETTER}]+)+|[${LETTER}.'-]+|[^\\s${LETTER}"“”„#()[\\],]+|[^]`,
].join("|").replaceAll("\\d", "\\p{Nd}")})`, "u");

// The tokens {kind, text, value, start, end, line, first} of a text, `first` where one starts its
// line, and the comments. None is looked for on a line behind one that fits nowhere.
function tokensOf(text) {
  const [tokens, comments] = [[], []];
  const tooLong = (end, line, most) => tokens.push({
    kind: "bad", start: end - 1, end, line, message: `The text has more than ${most}: split it.`,
  });
  if (text.length > LONGEST_TEXT) {
    tooLong(1, 1, `${LONGEST_TEXT} characters`);
    return { tokens, comments };
  }
  let [start, line] = [0, 1];
  for (const written of text.split("\n")) {
    addTokens(tokens, comments, written, start, line);
    [start, line] = [start + written.length + 1, line + 1];
    if (tokens.length <= MOST_WORDS) continue;
    tokens.length = MOST_WORDS;
    tooLong(tokens.at(-1).end, tokens.at(-1).line, `${MOST_WORDS} words`);
    break;
  }
  return { tokens, comments };
}

function addTokens(tokens, comments, written, lineStart, line) {
  const plain = plainSigns(written);
  let [at, first] = [0, true];
  while (at < plain.length && tokens.length <= MOST_WORDS) {
    if (" \t\r\f\ufeff".includes(plain[at])) {
      at += 1;
      continue;
    }
    const token = tokenAhead(plain.slice(at, at + LONGEST_WORD + 200));  // looks at no more at once
    const raw = written.slice(at, at + token.length);
    const start = lineStart + at;
    if (token.kind === "comment") {
      comments.push({ start, text: written.slice(at).trimEnd() });
      return;
    }
    if (token.kind === "string") token.value = raw.slice(1, -1).replace(/\\([^])/g, "$1");
    if (token.kind === "bad") token.message ??= whyNoToken(raw);
    first &&= /^[ \t\ufeff\xa0\r]*$/.test(written.slice(0, at));
    tokens.push({ ...token, start, end: start + token.length, line, first });
    if (token.kind === "bad" || token.kind === "misfit") return;
    at += token.length;
    first = false;
  }
}

function tokenAhead(view) {
  const { 0: text, groups } = TOKEN_AHEAD.exec(view);
  const { length } = text;
  if (length > LONGEST_WORD) {
    return { kind: "bad", text, length, message: "This word is too long: shorten it." };
  }
  const { number, unit } = groups;
  if (!number) {
    const kind = Object.keys(groups).find((each) => groups[each] !== undefined) ?? "bad";
    return { kind, text, value: text, length };
  }
  const value = number.replace(/ +/g, " ");
  if (unit) {
    const usual = USUAL_UNITS.get(plainUnit(unit));
    return { kind: "quantity", text, value: `${value} ${usual}`, length };
  }
  const behind = text.slice(number.length);
  if (behind && (/^\S/.test(behind) || !BEHIND_NUMBERS.has(behind.trim().toLowerCase()))) {
    const message = `${shortly(behind.trim())} is not a unit that is read here: write a number and `
      + "a unit, such as `30 mm`, `31 psi` or `5 years`.";
    return { kind: "bad", text, length, message };
  }
  return { kind: "number", text: number, value, length: number.length };
}

function whyNoToken(raw) {
  if (/^["“”„]/.test(raw)) return 'This has no closing quote on its line: close it with `"`.';
  return /^[\d.]/.test(raw)
    ? `${shortly(raw)} is not a number: write one like \`3.5\`, \`3/32\` or \`1 1/4\`, and a date `
      + "like `2026-04-03`."
    : `${shortly(raw)} means nothing here: take it out, or put words of your own in quotes.`;
}

// ---- entries ----------------------------------------------------------------

// What can be read of a text, `clauses` {kind, start, end, line, …}, with one that is "unread"
// for each of the `mistakes` {line, message}.
class RiderText {
  constructor(text) {
    Object.assign(this, { text, clauses: [], mistakes: [] }, tokensOf(text));
    let at = 0;
    while (at < this.tokens.length && this.mistakes.length < MOST_MISTAKES) at = this.readFrom(at);
  }

  get entries() {
    return this.clauses.filter(({ kind }) => kind === "given");
  }

  // The value as it is spelled; comments may stand in a list.
  spelling({ values }) {
    return values.length ? this.text.slice(values[0].start, values.at(-1).end) : "none";
  }

  word(at) {
    const token = this.tokens[at];
    return token?.kind === "word" ? token.text.toLowerCase() : "";
  }

  isName(at) {
    return this.word(at) !== "" && !RESERVED_WORDS.has(this.word(at));
  }

  // Reads on until what does not fit; returns where to go on.
  readFrom(begin) {
    const { tokens, clauses } = this;
    const whole = [];
    let [at, next] = [begin, begin];
    while (at < tokens.length) {
      const clause = this.clauseAt(at);
      next = clause.next;
      if (!clause.kind) break;
      const { start, line } = tokens[at];
      whole.push({ start, line, end: tokens[next - 1].end, ...clause });
      at = next;
    }
    const done = at === tokens.length;
    // The rest of its line belongs to the last clause.
    if (!done && next === at && !tokens[at].first) whole.pop();
    for (const clause of whole) clauses.push(clause);
    return done ? at : this.recover(begin, next, whole.at(-1)?.end ?? 0);
  }

  // What begins at a token, and what is `next`; that does not fit where there is no `kind`.
  clauseAt(at) {
    const { tokens } = this;
    const word = this.word(at);
    let next = at + 1;
    if (word === "declaration") {
      while (tokens[next]?.kind === "string") next += 1;
      const value = tokens.slice(at + 1, next).map((token) => token.value).join(" ");
      return next > at + 1 ? { kind: "title", value, next } : { next };
    }
    if (word === "declared" && this.word(next) === "on") {
      const day = tokens[at + 2];
      return day?.kind === "day" ? { kind: "day", day, next: at + 3 } : { next: at + 2 };
    }
    if (tokens[at].kind !== "path" && word !== "it" && !this.isName(at)) return { next: at };
    if (this.word(next) !== "is") return { next };
    const values = [];
    const given = { kind: "given", path: tokens[at].text.toLowerCase(), values };
    if (this.word(next + 1) === "none") return { ...given, next: next + 2 };
    do {
      next += 1;
      const sign = tokens[next]?.kind === "minus" ? tokens[next] : null;
      if (sign) next += 1;
      const value = this.valueAt(next, sign);
      if (!value) return { next };
      values.push(value);
      next += 1;
    } while (tokens[next]?.kind === "comma");
    return { ...given, next };
  }

  valueAt(at, sign) {
    const { kind, value, start, end, line } = this.tokens[at] ?? {};
    if (sign) {
      const counts = kind === "number" || kind === "quantity";
      return counts ? { kind, text: `-${value}`, start: sign.start, end, line: sign.line } : null;
    }
    const flag = ["yes", "no"].includes(this.word(at));
    const fits = ["number", "quantity", "string", "day"].includes(kind) || flag || this.isName(at);
    return fits ? { kind, text: flag ? this.word(at) : value, start, end, line } : null;
  }

  // Notes the mistake of the entry that stopped at a token; returns where to go on.
  recover(begin, reached, wholeUntil) {
    const { tokens, clauses } = this;
    const last = tokens.length - 1;
    let head = begin;
    while (head < Math.min(reached, last) && tokens[head].start < wholeUntil) head += 1;
    if (clauses.length && !tokens[head].first) {
      // `helmet.shell is Full Face`: no entry starts at `Face`.
      reached = Math.min(reached, head);
      const { start } = clauses.pop();
      while (tokens[head].start > start) head -= 1;
    }
    // `PATH is` without a value took the next line's path for one.
    if (head < reached - 1 && this.mayStart(reached - 1)) reached -= 1;
    let onward = Math.max(reached, head + 1);
    while (onward <= last && !this.mayStart(onward)) onward += 1;
    const bad = tokens.slice(head, onward).find(({ kind }) => kind === "bad");
    const told = bad && bad.start <= tokens[Math.min(reached, last)].start;
    const [{ line }, message] = told ? [bad, bad.message] : this.mistake(head, reached);
    this.mistakes.push({ line, message });
    clauses.push({ kind: "unread", start: tokens[head].start });
    return onward;
  }

  // Whether a line starts here from which reading may go on.
  mayStart(at) {
    const { kind, text, first } = this.tokens[at];
    if (!first || !(kind === "word" || kind === "path")) return false;
    return /^declar(ation|ed)$/i.test(text) || this.word(at + 1) === "is";
  }

  // The token at which a mistake is told, and how.
  mistake(head, reached) {
    const { tokens } = this;
    const [before, token] = [tokens[reached - 1], tokens[reached]];
    const word = this.word(reached);
    const statement = STATEMENT_WORDS.has(word);
    const open = before?.kind === "comma";
    const comma = "A comma ends this list: take it out, or write another member behind it.";
    if (open && (!token || statement || token.text === ")")) return [before, comma];
    if ((open || ["is", "row"].includes(this.word(reached - 1))) && RESERVED_WORDS.has(word)
        && word !== "is" && word !== "of" && !(token.first && statement)) {
      return [token, `\`${word}\` is a word of the language: as a choice, write \`"${word}"\`.`];
    }
    const loose = !token || token.first;
    if (!loose && this.isName(reached - 1) && (token.kind === "number" || this.isName(reached))) {
      const words = this.text.slice(before.start, token.end);
      return [before, `${shortly(words)} is more than one word: write them in quotes.`];
    }
    const form = {
      declaration: '`declaration "Who, and which machine"`', declared: "`declared on 2026-06-10`",
    }[this.word(head)] ?? "`PATH is VALUE`, such as `tyre.front.tread is 3.5 mm`";
    return loose && reached > head
      ? [tokens[head], open ? comma : `This is not whole: write ${form}.`]
      : [token, `${shortly(token.text)} does not belong here: write ${form}.`];
  }
}

// ---- values -----------------------------------------------------------------

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

// ---- edits ------------------------------------------------------------------

const NOT_KNOWN = /(?<![^\n])[ \t]*#[ \t]*not known:[ \t]*([a-z0-9.-]+)[ \t]*\r?(?:\n|$)/gi;
const MORE_ON_LINE =
  /^[ \t]*[^\t-\r\x1c- \x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000#]/;

// The comments `# not known: PATH`.
const notesIn = (text) => [...text.matchAll(NOT_KNOWN)]
  .map(({ 0: { length }, 1: path, index }) => ({ path: path.toLowerCase(), index, length }));
const lineEndOf = (text) => (text.includes("\r\n") ? "\r\n" : "\n");
const replacedPart = (text, start, end, by) => text.slice(0, start) + by + text.slice(end);

// The facts that a text says are not known.
function notKnown(text) {
  return [...new Set(notesIn(text).map(({ path }) => path))];
}

// The text with `PATH is WRITTEN`: in place of what it declared, else of the line `#PATH is` of a
// blank declaration, else of the comment that it is not known, else behind the facts `near`.
function withAnswer(text, path, written, near) {
  const line = `${path} is ${written}`;
  const given = new RiderText(text).entries.find((entry) => entry.path === path);
  const blank = blankLine(text, path);
  const note = notesIn(text).find((one) => one.path === path);
  let edited;
  if (given) edited = withEntry(text, given, written);
  else if (blank) edited = replacedPart(text, blank.index, blank.index + blank[1].length, line);
  else if (note) {
    edited = replacedPart(text, note.index, note.index + note.length, line + lineEndOf(text));
  } else return withLine(text, line, near);
  return withoutNote(edited, path);
}

// The text with the comment that a fact is not known.
function withNote(text, path, near) {
  const line = `# not known: ${path}`;
  if (notKnown(text).includes(path)) return text;
  const { index } = blankLine(text, path) ?? {};
  return index === undefined ? withLine(text, line, near)
    : replacedPart(text, index, index, line + lineEndOf(text));
}

function withoutNote(text, path) {
  return text.replace(NOT_KNOWN, (whole, noted) => (noted.toLowerCase() === path ? "" : whole));
}

// The text without what it declares for a fact; comments stay.
function withoutAnswer(text, path) {
  const { entries, comments } = new RiderText(text);
  return entries.filter((entry) => entry.path === path).reverse().reduce((left, { start, end }) => {
    const inside = comments.filter((comment) => comment.start > start && comment.start < end);
    return withoutPart(left, start, end, inside.map((comment) => comment.text));
  }, text);
}

// The value of a fact as the text spells it; nothing where it is not declared.
function declaredText(text, path) {
  const read = new RiderText(text);
  const given = read.entries.find((entry) => entry.path === path);
  return given ? read.spelling(given) : "";
}

// The text with another title; without one where it is empty.
function withTitle(text, title) {
  const one = title.replace(/[\s\x1c-\x1f\x85]+/g, " ").slice(0, LONGEST_TITLE);
  const quoted = one.replace(/[\\"]/g, "\\$&");
  return withHead(text, "title", one.trim() && `declaration "${quoted}"`);
}

// The text with another day on which it was declared; without one for null.
function withDeclaredOn(text, day) {
  return withHead(text, "day", day === null ? "" : `declared on ${isoDay(day)}`);
}

// A new title stands at the top, a new day below the title.
function withHead(text, kind, line) {
  const { clauses } = new RiderText(text);
  const head = (its) => clauses.find((clause) => clause.kind === its);
  const [own, title, newLine] = [head(kind), head("title"), lineEndOf(text)];
  if (own) {
    return line ? replacedPart(text, own.start, own.end, line)
      : withoutPart(text, own.start, own.end, []);
  }
  if (!line) return text;
  if (title) return replacedPart(text, title.end, title.end, newLine + line);
  const top = text.startsWith("\ufeff") ? 1 : 0;
  const gap = /^(\r?\n|[ \t]*declared\b|$)/i.test(text.slice(top)) ? "" : newLine;
  return replacedPart(text, top, top, line + newLine + gap);
}

// The text without a part of it, and without its line where nothing else stands there.
function withoutPart(text, start, end, comments) {
  const before = text.slice(text.lastIndexOf("\n", start) + 1, start);
  const after = text.slice(end);
  const kept = comments.map((comment) => comment + lineEndOf(text)).join("");
  const [rest] = /^[ \t]*(\r?\n|$)?/.exec(after);
  const alone = /\n$/.test(rest) || rest === after;
  if (!before.trim()) {
    const from = alone ? start - before.length : start;
    return replacedPart(text, from, end + rest.length, kept);
  }
  const gap = alone ? /^[ \t]*/.exec(rest)[0] : rest;
  return replacedPart(text, start, end + gap.length, kept);
}

// The line of a blank declaration that asks for the fact, still without an answer.
function blankLine(text, path) {
  const form = `([ \\t]*#[ \\t]*${path.replaceAll(".", "\\.")}[ \\t]+is)[ \\t]*\\r?`;
  return new RegExp(`(?<![^\\n])${form}(?![^\\n])`, "i").exec(text);
}

function withEntry(text, { start, end, path }, written) {
  const rest = text.slice(end);
  // A comment must not swallow what follows.
  const apart = written.includes("#") && MORE_ON_LINE.test(rest);
  return `${text.slice(0, start + path.length)} is ${written}`
    + (apart ? lineEndOf(text) + rest.replace(/^[ \t]+/, "") : rest);
}

// The text with a line of its own more.
function withLine(text, line, near) {
  const newLine = lineEndOf(text);
  const places = [...new RiderText(text).entries, ...notesIn(text)];
  const last = places.filter(({ path }) => near.has(path))
    .reduce((most, { end, index }) => Math.max(most, end ?? index), -1);
  const at = last < 0 ? 0 : text.indexOf("\n", last) + 1;
  if (at) return replacedPart(text, at, at, line + newLine);
  const body = !text || text.endsWith("\n") ? text : text + newLine;
  const tight = !body || last >= 0 || /(\n|\r\n\r)\n$/.test(body);
  return body + (tight ? "" : newLine) + line + newLine;
}
