// The tokens of a declaration's text; as trackprep/syntax/tokens.py finds them.

const [LONGEST_TEXT, LONGEST_WORD, MOST_WORDS] = [2000000, 4000, 200000];  // characters, words

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
