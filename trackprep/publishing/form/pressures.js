// The rider's pressure log, lines of text that are only ever added to: as
// trackprep/pressures/log.py. An amount is {value, unit, text}: a rational in base units, the
// unit that it was written in, and what was written (empty of what was worked out).

const LOG_TYRES = ["front", "rear"];
const LOG_FIGURES = ["figure", "least", "sidewall", "road", "hot-target"];
const NO_LOG_LINE = "such as `front figure is 31 psi at 20 °C`, or"
  + " `on 2026-06-14 at 08:10 front is 30.2 psi cold air 9 °C`";
const NO_LOG_END = "the last line has no line break at its end, so that something of it may be"
  + " missing";
const LOG_SETTING = /^(front|rear) (figure|least|sidewall|road|hot target) is (.+)$/;
const LOG_READING = new RegExp(
  "^on (\\d{4}-\\d\\d-\\d\\d) at (\\d\\d?:\\d\\d) (front|rear) (is|set to) (.+?) (cold|hot)"
  + "(?: (.+))?$",
);

// What cannot be read: a sentence, and what was expected.
class PressureFault extends Error {
  constructor(message, expected) {
    super(message);
    this.expected = expected;
  }
}

// ---- amounts ----------------------------------------------------------------

// How pressures, temperatures and altitudes are read and written; `form` is {units, pressures},
// the latter as trackprep/pressures/plain.py makes it.
class Gauges {
  constructor({ units, pressures }) {
    Object.assign(this, { units, ...pressures });
  }

  // The amount that was written for something asked for; `shown` is what a
  // problem calls it.
  read(name, text, shown = name) {
    const { unit, low, example } = this.asked[name];
    const called = shown && `${shown}: `;
    const typed = unit === "°C" ? text.trim().replace(/(\d) *([cf])$/i, withDegrees) : text.trim();
    const found = readAmount(typed, { kind: "number", unit, low }, this.units);
    const spelled = /^[-–−]?\d[^\p{L}°º˚℃℉µμ]*(.*)$/u.exec(typed);
    if (found.problem || !spelled) {
      throw new PressureFault(`${called}${found.problem ?? "This is no number."}`, example);
    }
    const value = rational(found.plain);
    if (low !== undefined && value.n === 0n) {
      throw new PressureFault(`${called}\`${typed}\` is nothing.`, `such as \`${example}\``);
    }
    return { value, unit: unitSpelled(spelled[1], this.units), text: typed };
  }

  inUnit(value, unit) {
    return over(minus(value, offsetOf(this.units[unit])), factorOf(this.units[unit]));
  }

  fromUnit(number, unit) {
    return plus(times(number, factorOf(this.units[unit])), offsetOf(this.units[unit]));
  }

  // The amount exactly, as a file has it.
  written({ value, unit, text }) {
    const number = this.inUnit(value, unit);
    const all = Array.from({ length: 21 }, (_, decimals) => decimals);
    const decimals = all.find((one) => 10n ** BigInt(one) % number.d === 0n);
    const digits = decimals === undefined ? rationalText(number) : fixedText(number, decimals);
    if (digits.replace(/\D/g, "").length > 20) {
      throw new PressureFault(`\`${text}\` has too many digits`, "a shorter number");
    }
    return `${digits} ${unit}`;
  }
}

const withDegrees = (_, digit, letter) => `${digit} °${letter.toUpperCase()}`;

// ---- reading ----------------------------------------------------------------

// {figures, readings, problems} of a log: the figures of each tyre by its last line, by what is
// asked for; readings in the order of the file, each with the figures known then; problems
// [{line, text, message, expected}], lines by number.
function readPressureLog(text, form) {
  const gauges = new Gauges(form);
  const log = { figures: { front: {}, rear: {} }, readings: [], problems: [] };
  // What steers terminals is no text either; it is shown as what it is not, sign by sign.
  const clean = text.replaceAll("\r\n", "\n").replace(/[^\P{C}\n\t]|[^\P{Z} ]/gu, "\ufffd");
  const lines = clean.split("\n");
  for (const [place, line] of lines.entries()) {
    const [, said, note = ""] = /^([^#]*)(?:#(.*))?$/.exec(line);
    const words = said.trim().split(/[ \t]+/).join(" ");
    try {
      if (words) takeLogLine(words, note.trim(), log, gauges);
    } catch (why) {
      if (!(why instanceof PressureFault)) throw why;
      const { message, expected } = why;
      log.problems.push({ line: place + 1, text: line.trim(), message, expected });
    }
  }
  if (lines.at(-1)) {
    const [line, last] = [lines.length, lines.at(-1).trim()];
    log.problems.push({ line, text: last, message: NO_LOG_END, expected: "" });
  }
  return log;
}

function takeLogLine(words, note, log, gauges) {
  if (words.includes("\ufffd")) {
    throw new PressureFault("this line is damaged: it holds bytes that are no text", NO_LOG_LINE);
  }
  const setting = LOG_SETTING.exec(words);
  const reading = LOG_READING.exec(words);
  if (setting) {
    const [, tyre, word, said] = setting;
    log.figures[tyre] = withLogFigure(log.figures[tyre], word, said, gauges);
  } else if (reading) {
    log.readings.push(logReading(reading, note, log.figures[reading[3]], gauges));
  } else {
    throw new PressureFault("this is no line of a pressure log", NO_LOG_LINE);
  }
}

function withLogFigure(figures, word, said, gauges) {
  const name = word.replace(" ", "-");
  const details = { at: "given-at", altitude: "given-altitude" };
  const [first, more] = logDetails(said, name === "figure" ? details : {}, gauges);
  const changed = { ...figures, [name]: gauges.read(name, first, word) };
  if (name !== "figure") return changed;
  // The temperature and the altitude come and go with the figure.
  return { ...changed, "given-at": more.at, "given-altitude": more.altitude };
}

function logReading([, day, clock, tyre, verb, pressure, state, rest = ""], note, figures, gauges) {
  const known = { air: "air", tyre: "tyre", altitude: "altitude" };
  const [nothing, more] = logDetails(rest, known, gauges);
  if (nothing) throw new PressureFault(`\`${nothing}\` is not understood here`, NO_LOG_LINE);
  if (dayOf(day) === null) throw new PressureFault(`\`${day}\` is no day`, "a date: `2026-06-14`");
  const [hour, minute] = clock.split(":");
  if (Number(hour) > 23 || Number(minute) > 59) {
    throw new PressureFault(`\`${clock}\` is no time of day`, "`00:00` to `23:59`");
  }
  return {
    day, at: `${hour.padStart(2, "0")}:${minute}`, tyre, state, set: verb === "set to", note,
    figures, pressure: gauges.read("pressure", pressure), air: more.air, warm: more.tyre,
    altitude: more.altitude,
  };
}

// What stands before the first of the known words, and the amount behind each of them.
function logDetails(text, known, gauges) {
  const said = new Map([["", []]]);
  let into = "";
  for (const word of text.split(" ")) {
    if (!Object.hasOwn(known, word)) {
      said.get(into).push(word);
      continue;
    }
    if (said.has(word)) {
      throw new PressureFault(`\`${word}\` stands here twice`, "keep one of the two");
    }
    into = word;
    said.set(word, []);
  }
  const [[, first], ...others] = said;
  const amounts = others.map(([word, its]) =>
    [word, gauges.read(known[word], its.join(" "), word)]);
  return [first.join(" "), Object.fromEntries(amounts)];
}

// The readings of a day by the clock, with the figures that held on it last.
function pressureDay(log, day) {
  const readings = log.readings.filter((one) => one.day === day);
  readings.sort((one, other) => (one.at < other.at ? -1 : one.at > other.at ? 1 : 0));
  const figures = { ...log.figures };
  if (log.readings.some((one) => one.day > day)) {
    for (const { tyre, figures: held } of readings) figures[tyre] = held;
  }
  return { day, figures, readings };
}

// ---- writing ----------------------------------------------------------------

// The lines of what was typed of a tyre.
function figureLines(tyre, figures, gauges) {
  return LOG_FIGURES.filter((name) => figures[name]).map((name) => {
    const line = `${tyre} ${name.replace("-", " ")} is ${gauges.written(figures[name])}`;
    if (name !== "figure") return line;
    const given = { at: figures["given-at"], altitude: figures["given-altitude"] };
    return line + logWords(given, gauges);
  });
}

// The line of a reading.
function readingLine({ day, at, tyre, pressure, state, set, air, warm, altitude, note }, gauges) {
  const line = `on ${day} at ${at} ${tyre} ${set ? "set to" : "is"} ${gauges.written(pressure)}`
    + ` ${state}${logWords({ air, tyre: warm, altitude }, gauges)}`;
  const noted = note.replace(/[\p{C}\p{Z}]+/gu, " ").trim();
  return noted ? `${line}  # ${noted}` : line;
}

function logWords(amounts, gauges) {
  const said = Object.entries(amounts).filter(([, amount]) => amount);
  return said.map(([word, amount]) => ` ${word} ${gauges.written(amount)}`).join("");
}

// The log with lines added at its end; what is there is never changed.
function withLogLines(text, lines, { pressures }) {
  const start = text ? (text.endsWith("\n") ? "" : "\n") : pressures.head;
  return text + start + lines.map((line) => `${line}\n`).join("");
}

// A log of another device put behind what is kept: its lines that are not there yet.
function withLogOf(text, other, form) {
  const clean = other.replace(/^\ufeff/, "").replaceAll("\r\n", "\n");
  if (!text.trim() || clean.startsWith(text)) return clean;
  const there = new Set(text.split("\n").map((line) => line.trim()));
  const lines = clean.split("\n").filter((line) => line.trim() && !there.has(line.trim()));
  return lines.length ? withLogLines(text, lines, form) : text;
}
