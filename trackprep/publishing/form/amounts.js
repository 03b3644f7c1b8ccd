// Numbers and their units as people write them: as in trackprep/units/reading.py, printing.py
// and rules/reading.py. UNITS is as form/units.py makes it; plain values are texts of rationals
// in base units.

const MOST_TYPED = 1000;  // characters; more is an accident with the clipboard
const MOST_NUMBER_DIGITS = 20;
const MOST_SHOWN_DECIMALS = 6;
const SHOWN_DIGITS = 4;  // of a number that does not end soon enough
const RULER_PARTS = [16n, 32n, 64n];
const SINGULAR_UNITS = {
  days: "day", weeks: "week", months: "month", years: "year", "32nds": "32nd",
};
const PLAIN_NUMBER = { is: "a number" };  // the unit of counts, which has no name

const NUMERAL = new RegExp(
  "^(?<sign>-?)[ \\t\\f]*" +
  "(?<number>(?:(?<whole>\\d+) +)?(?<above>\\d+)/(?<below>\\d+)|" +
  "(?<digits>\\d+)(?:\\.(?<decimals>\\d+))?)" +
  "(?![\\d.]|[,/]\\d)[ \\t]*(?<name>.*)$",
);

const rationalText = ({ n, d }) => (d === 1n ? `${n}` : `${n}/${d}`);
const factorOf = (unit) => rational(unit.factor ?? "1");
const offsetOf = (unit) => rational(unit.offset ?? "0");
const unitOf = (name, units) => (name ? units[name] : PLAIN_NUMBER);

// ---- reading ----------------------------------------------------------------

// Text without the white space around it, as Python takes it off.
const trimmed = (text) => text.replace(/^[\s\x1c-\x1f\x85]+|[\s\x1c-\x1f\x85]+$/g, "");
const shortly = (text) => `\`${text.length <= 40 ? text : `${text.slice(0, 39)}…`}\``;

// One sign for each of those that word processors and keyboards put for the same.
const plainSigns = (text) => text.replace(/[–‑−]/g, "-").replace(/[\u00a0\u202f\u2009]/g, " ");
const plainUnit = (text) =>
  text.replace(/[·⋅∙]/g, "*").replace(/[º˚]/g, "°").replace(/μ/g, "µ").replace(/ +/g, " ");

// What was typed, and the comment behind it as a file has it.
function partedTyped(text) {
  const typed = trimmed(text);
  if (typed.length > MOST_TYPED) return { problem: `Write at most ${MOST_TYPED} characters.` };
  if (/[\r\n]/.test(typed)) return { problem: "Write it on one line." };
  const mark = typed.indexOf("#");
  if (mark < 0) return { said: typed, comment: "" };
  return { said: trimmed(typed.slice(0, mark)), comment: `  ${typed.slice(mark)}` };
}

// The text's {plain, written}, `written` as a file spells it; or {problem}, a sentence.
function readAmount(text, fact, units) {
  const { said, comment, problem } = partedTyped(text);
  if (problem) return { problem };
  if (!said) return { problem: `Write ${amountWords(fact, units)}.` };
  const parts = NUMERAL.exec(plainSigns(said))?.groups;
  const name = parts && unitSpelled(parts.name, units);
  const unit = name === undefined ? undefined : unitOf(name, units);
  const why = parts
    ? whyNoNumeral(parts) ?? whyNotThisUnit(parts, unit, fact, units)
    : whyNoAmount(said, fact, units);
  if (why) return { problem: why };
  const value = plus(times(numeralOf(parts), factorOf(unit)), offsetOf(unit));
  if (fact.whole && (parts.name || parts.above || parts.decimals)) {
    return { problem: `${shortly(said)} is no whole number: write ${amountWords(fact, units)}.` };
  }
  if (liesOutside(value, fact)) return { problem: whyOutside(parts, said, fact, units) };
  return { plain: rationalText(value), written: said + comment };
}

function numeralOf({ sign, whole = "0", above, below, digits, decimals = "" }) {
  const [top, bottom] = above
    ? [BigInt(whole) * BigInt(below) + BigInt(above), BigInt(below)]
    : [BigInt(digits + decimals), 10n ** BigInt(decimals.length)];
  return ratio(sign ? -top : top, bottom);
}

// The name of the unit so spelled, "" of none written; undefined where none is spelled so.
function unitSpelled(spelling, units) {
  const wanted = plainUnit(spelling);
  if (!wanted || Object.hasOwn(units, wanted)) return wanted;
  return Object.keys(units).find((name) => units[name].also?.includes(wanted));
}

function liesOutside(value, { low, high }) {
  return (low !== undefined && compare(value, rational(low)) < 0)
    || (high !== undefined && compare(value, rational(high)) > 0);
}

// ---- what is wrong ----------------------------------------------------------

// How the fact is answered: `a number and its unit, from 0 mm to 12 mm`.
function amountWords(fact, units) {
  const ends = [["from", fact.low], ["to", fact.high]].filter(([, end]) => end !== undefined);
  const range = ends.map(([word, end]) => ` ${word} ${showAmount(end, fact.unit, units)}`).join("");
  if (fact.whole) return `a whole number${range}`;
  if (!fact.unit) return `a number${range}`;
  return `a number and its unit, ${range ? range.slice(1) : `such as \`3 ${fact.unit}\``}`;
}

function whyNoNumeral({ sign, number, whole, above, below }) {
  const count = number.replace(/\D/g, "").length;
  if (count > MOST_NUMBER_DIGITS) {
    return `This number has ${count} digits: write at most ${MOST_NUMBER_DIGITS}.`;
  }
  if (below === undefined) return undefined;
  if (BigInt(below) === 0n) return `\`${sign}${number}\` divides by zero.`;
  if (BigInt(whole ?? "0") !== 0n && BigInt(above) >= BigInt(below)) {
    return `\`${sign}${number}\` is no mixed fraction: its second part must be below 1.`;
  }
  return undefined;
}

function whyNotThisUnit({ sign, number, name }, unit, fact, units) {
  const own = unitOf(fact.unit, units);
  if (unit?.is === own.is) return undefined;
  const typed = `${sign}${number}`;
  const either = (before) =>
    listed(offeredUnits(fact, units).map((each) => `\`${before}${each}\``), "or");
  if (!name) return `The unit is missing: write ${either(`${typed} `)}.`;
  if (!fact.unit) return `Write the number alone, without ${shortly(name)}.`;
  if (own.is === "a pressure" && /^(kgs?|kilos?)$/i.test(name)) {
    return `A gauge in kg reads kgf to the square centimetre: write \`${typed} kgf/cm^2\`.`;
  }
  const meant = unitMeant(name, own.is, units);
  if (meant) return `${shortly(name)} is not read here: write \`${typed} ${meant}\`.`;
  const wrong = unit ? `is ${unit.is}, and this is ${own.is}` : `is no unit for ${own.is}`;
  return `${shortly(name)} ${wrong}: write it in ${either("")}.`;
}

// The unit that somebody most likely meant: `mm` by `Millimetres`.
function unitMeant(spelling, dimension, units) {
  const squeezed = (text) => {
    const lower = plainUnit(text).toLowerCase().replace(/\.+$/, "");
    return lower.replace(/[*\-_ .]/g, "") || lower;
  };
  const wanted = squeezed(spelling);
  return Object.keys(units).find((name) => {
    const { is, also = [], words = "" } = units[name];
    const known = [name, ...also, ...words.split(" ")];
    return is === dimension && known.some((word) => squeezed(word) === wanted);
  });
}

// Slips in numbers that people make, and what they should have written.
const NUMBER_SLIPS = [
  [/^(-?)(\.\d)/, "$10$2"],
  [/^(-?\d+)\.(?!\d)/, "$1"],
  [/^\+ *(?=\d)/, ""],
];

function whyNoAmount(said, fact, units) {
  const plain = plainSigns(said);
  const wanted = `write ${amountWords(fact, units)}.`;
  const [commas] = /^-?\d+(?:,\d+)+(?:\.\d+)?/.exec(plain) ?? [];
  if (commas) {
    const rest = plain.slice(commas.length);
    const joined = `\`${commas.replaceAll(",", "")}${rest}\``;
    const either = !commas.includes(".") && commas.split(",").length === 2;
    const point = either ? `\`${commas.replace(",", ".")}${rest}\` or ` : "";
    return `Numbers are written without a comma here: write ${point}${joined}.`;
  }
  const slip = NUMBER_SLIPS.find(([form]) => form.test(plain));
  if (slip) return `Write \`${plain.replace(...slip)}\`.`;
  return `${shortly(said)} is not a number that is read here: ${wanted}`;
}

function whyOutside({ name }, said, fact, units) {
  const own = fact.unit && !name ? ` If you mean \`${said} ${fact.unit}\`, write that.` : "";
  const wanted = amountWords(fact, units);
  const again = fact.whole ? " Count once more." : " Measure once more, or mend the unit.";
  return `${shortly(said)} cannot be right: this is ${wanted}.${own || again}`;
}

// ---- printing ---------------------------------------------------------------

// As trackprep.units.show prints it: `3.5 mm`, `1 3/32 in`, `about 227.5 kPa`. A temperature
// that is a difference is in kelvin.
function showAmount(plain, name = "", units = {}, difference = false) {
  const [number, shown] = inUnit(plain, name, units, difference);
  const text = numeralText(number, shown);
  if (!shown) return text;
  if (shown === "°") return `${text}°`;
  return `${text} ${text === "1" ? SINGULAR_UNITS[shown] ?? shown : shown}`;
}

function inUnit(plain, name, units, difference) {
  const unit = unitOf(name, units);
  const offset = offsetOf(unit);
  const value = rational(plain);
  if (!difference) return [over(minus(value, offset), factorOf(unit)), name];
  return offset.n === 0n ? [over(value, factorOf(unit)), name] : [value, "K"];
}

function numeralText(number, name) {
  if (name === "in" && RULER_PARTS.includes(number.d)) return rulerText(number);
  for (let decimals = 0; decimals <= MOST_SHOWN_DECIMALS; decimals += 1) {
    if (10n ** BigInt(decimals) % number.d === 0n) return fixedText(number, decimals);
  }
  return `about ${fixedText(number, shownPlaces(number))}`;
}

function rulerText({ n, d }) {
  const size = n < 0n ? -n : n;
  const whole = size / d;
  return `${n < 0n ? "-" : ""}${whole ? `${whole} ` : ""}${size % d}/${d}`;
}

// How many decimals make so many significant digits; whole digits are never cut.
function shownPlaces({ n, d }) {
  const size = n < 0n ? -n : n;
  if (size >= d) return Math.max(SHOWN_DIGITS - `${size / d}`.length, 0);
  let places = SHOWN_DIGITS;
  while (size && size * 10n ** BigInt(places) < 10n ** BigInt(SHOWN_DIGITS - 1) * d) places += 1;
  return places;
}

// Rounded to so many decimals, halves to the even digit, without zeros at its end.
function fixedText({ n, d }, places) {
  const size = (n < 0n ? -n : n) * 10n ** BigInt(places);
  const twice = 2n * (size % d);
  const up = twice > d || (twice === d && (size / d) % 2n === 1n);
  const scaled = size / d + (up ? 1n : 0n);
  const digits = `${scaled}`.padStart(places + 1, "0");
  const whole = digits.slice(0, digits.length - places);
  const decimals = digits.slice(digits.length - places).replace(/0+$/, "");
  return `${n < 0n ? "-" : ""}${whole}${decimals && `.${decimals}`}`;
}

// The names of units to choose from, those of the system ("metric" or "imperial") first, and
// of them the fact's own. Of a count it is "", the plain number's.
function offeredUnits(fact, units, system = "metric") {
  if (!fact.unit) return [""];
  const names = [...new Set([fact.unit, ...(units[fact.unit].offered ?? [])])];
  const usual = (name) => (units[name].system ?? system) === system;
  return [...names.filter(usual), ...names.filter((name) => !usual(name))];
}
