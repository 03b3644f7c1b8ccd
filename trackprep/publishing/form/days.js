// Dates as people write and say them, and week codes: as in trackprep/rider/asking_dates.py,
// dates/spans.py and dates/weeks.py. Days are whole numbers as in calendar.js, spans
// [first, last]. Nothing is guessed: where two dates may be meant, both are shown.

const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;
const MONTH_NAMES = [
  "January", "February", "March", "April", "May", "June", "July",
  "August", "September", "October", "November", "December",
];
const ISO_DATE = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/;
const QUOTED = /^(?:"((?:\\.|[^"\\])*)"|[“”„]((?:\\.|[^"“”„\\])*)["“”])$/;

const NAMED_DATE = /^(?:(\d{1,2})(?:st|nd|rd|th)? (?:of )?)?([a-z]{3,9})\.?,? (\d{4})$/;
const MONTH_FIRST = /^([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})$/;
const YEAR_FIRST = /^(\d{4})[ ./-]+(\d{1,2})(?:[ ./-]+(\d{1,2}))?$/;
const YEAR_LAST = /^(?:(\d{1,2})[ ./-]+)?(\d{1,2})[ ./-]+(\d{4})$/;
const SHORT_DATE = /^(\d{1,2})[ ./-]+(\d{1,2})(?:[ ./-]+(\d{2}))?$/;
const SHORT_NAMED = /^(?:(\d{1,2}) )?([a-z]{3,9})\.? '?(\d{1,2})$/;

// ---- printing ---------------------------------------------------------------

const twoDigits = (number) => `${number}`.padStart(2, "0");

// `2026-06-14` of a day's number.
function isoDay(number) {
  const { year, month, day } = calendarDay(number);
  return `${`${year}`.padStart(4, "0")}-${twoDigits(month)}-${twoDigits(day)}`;
}

// The number of the day `2026-06-14`; null of a text that is no such day.
function dayOf(text) {
  const { plain } = spanOf(text);
  return plain && text.length === 10 ? plain[0] : null;
}

// The number of the day by the clock.
function dayToday(now = new Date()) {
  return dayNumber(now.getFullYear(), now.getMonth() + 1, now.getDate());
}

// `4 March 2026` of a day; of a span `April 2023`, `2023` or `9 to 15 June 2019`.
function longForm(when) {
  const [first, last] = typeof when === "number" ? [when, when] : when;
  const [from, to] = [calendarDay(first), calendarDay(last)];
  const monthYear = `${MONTH_NAMES[to.month - 1]} ${to.year}`;
  const end = `${to.day} ${monthYear}`;
  if (first === last) return end;
  const sameYear = from.year === to.year;
  const sameMonth = sameYear && from.month === to.month;
  const whole = from.day === 1 && to.day === monthLength(to.year, to.month);
  if (sameYear && whole && from.month === 1 && to.month === 12) return `${to.year}`;
  if (sameMonth && whole) return monthYear;
  if (sameMonth) return `${from.day} to ${end}`;
  const start = `${from.day} ${MONTH_NAMES[from.month - 1]}`;
  return `${start}${sameYear ? "" : ` ${from.year}`} to ${end}`;
}

// ---- reading ----------------------------------------------------------------

// The text's {plain, written}, `plain` the span, `written` as a file spells it; or {problem},
// a sentence. A past date, and a week, does not begin after the event's day.
function readDate(text, fact, day) {
  const { said, comment, problem } = partedTyped(text);
  if (problem) return { problem };
  if (!said) return { problem: `Write ${dateWords(fact)}.` };
  const read = fact.kind === "week code"
    ? spelledSpan(said.replace(/^dot\s*/i, ""), weekOf)
    : spelledDate(said);
  if (read.problem) return { problem: read.problem };
  const [first] = read.plain;
  if (fact.kind !== "date" && first > day) {
    const [when, event] = [longForm(read.plain), longForm(day)];
    return { problem: `${when} lies after the event on ${event}: write a date up to that day.` };
  }
  return { plain: read.plain, written: read.written + comment };
}

const dateWords = (fact) => (fact.kind === "week code"
  ? "the last four digits after DOT on the sidewall, such as `2319`"
  : "a date, as `17 April 2023`, or `Apr 2023` or `2023` if no more is known");

// What a file so spelled means; it may stand in quotes.
function spelledSpan(written, read) {
  const quoted = QUOTED.exec(written);
  const text = quoted ? (quoted[1] ?? quoted[2]).replace(/\\(.)/g, "$1") : plainSigns(written);
  return { written, ...read(text) };
}

function spelledDate(said) {
  const words = said.toLowerCase().replace(/[\s\x1c-\x1f\x85]+/g, " ");
  const full = [...new Set(fullDates(words))];
  const possible = full.filter((iso) => spanOf(iso).plain);
  if (possible.length > 1) {
    const both = possible.map((iso) => `\`${longForm(spanOf(iso).plain)}\``);
    return { problem: `${shortly(said)} could be two dates: write ${listed(both, "or")}.` };
  }
  const [iso] = [...possible, ...full];
  if (iso) return spelledSpan(iso, spanOf);
  const short = [...new Set(shortDates(words))];
  if (short.length) {
    return { problem: `Write the year of ${shortly(said)} in full: ${listed(short, "or")}.` };
  }
  return spelledSpan(said, spanOf);
}

// The dates with a year of four digits that the text may be, in ISO form.
function fullDates(words) {
  let found = NAMED_DATE.exec(words);
  if (found && monthNamed(found[2])) return [isoText(found[3], monthNamed(found[2]), found[1])];
  found = MONTH_FIRST.exec(words);
  if (found && monthNamed(found[1])) return [isoText(found[3], monthNamed(found[1]), found[2])];
  found = YEAR_FIRST.exec(words);
  if (found) return [isoText(...found.slice(1))];
  found = YEAR_LAST.exec(words);
  if (!found) return [];
  const [, one, other, year] = found;
  return one ? [isoText(year, other, one), isoText(year, one, other)] : [isoText(year, other)];
}

// How to write what a date without its century, or its year, may mean.
function shortDates(words) {
  let found = SHORT_NAMED.exec(words);
  const month = found && monthNamed(found[2]);
  if (month) {
    const [, day, , last] = found;
    return [...withCentury(last, month, day), ...(day ? [] : withoutYear(month, last))];
  }
  found = SHORT_DATE.exec(words);
  if (!found) return [];
  const [, one, other, last] = found;
  const orders = [[one, other], [other, one]];
  if (!last) {
    return [
      ...orders.flatMap(([number, year]) => withCentury(year, number)),
      ...orders.flatMap(([number, day]) => withoutYear(number, day)),
    ];
  }
  const dates = [[last, other, one], [last, one, other], [one, other, last]];
  return dates.flatMap((date) => withCentury(...date));
}

// In the year of two digits that riders most likely have to do with.
function withCentury(year, month, day) {
  const { plain } = spanOf(isoText(`${year < "50" ? "20" : "19"}${year}`, month, day));
  return year.length === 2 && plain ? [`\`${longForm(plain)}\``] : [];
}

function withoutYear(month, day) {
  const { plain } = spanOf(isoText("2024", month, day));  // a leap year has every day
  return plain ? [`\`${longForm(plain).slice(0, -5)}\` and its year`] : [];
}

// The month's number by its name or the beginning of it; 0 of no month.
function monthNamed(name) {
  if (name === "sept") return 9;
  const lower = MONTH_NAMES.map((month) => month.toLowerCase());
  return 1 + lower.findIndex((month) => month === name || month.slice(0, 3) === name);
}

const isoText = (year, month, day) =>
  `${year}-${twoDigits(Number(month))}${day ? `-${twoDigits(Number(day))}` : ""}`;

// {plain: span} of `2023-04-17`, `2023-04` or `2023`, or {problem}.
function spanOf(text) {
  const found = ISO_DATE.exec(text);
  if (!found) return { problem: `${shortly(text)} is not a date: write ${dateWords({})}.` };
  const [year, month, day] = found.slice(1).map((part) => part && Number(part));
  const fault = whyNoDate(year, month, day);
  if (fault) return { problem: `${shortly(text)} is not a date: ${fault}.` };
  if (month === undefined) return { plain: [dayNumber(year, 1, 1), dayNumber(year, 12, 31)] };
  const [first, last] = day === undefined ? [1, monthLength(year, month)] : [day, day];
  return { plain: [dayNumber(year, month, first), dayNumber(year, month, last)] };
}

function whyNoDate(year, month, day) {
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    return `the year must lie from ${FIRST_YEAR} to ${LAST_YEAR}`;
  }
  if (month === undefined) return "";
  if (month < 1 || month > 12) return `there is no month ${month}`;
  const length = monthLength(year, month);
  if (day === undefined || (day >= 1 && day <= length)) return "";
  return `${MONTH_NAMES[month - 1]} ${year} has days 1 to ${length}`;
}

// ---- week codes -------------------------------------------------------------

// The week that a tyre's date code WWYY names in the year 20YY, by 49 CFR 574.5(b)(3): weeks
// run Sunday to Saturday, and week 01 is the first full one.
function weekOf(text) {
  if (!/^\d{4}$/.test(text)) return { problem: whyNoWeekCode(text) };
  const [week, year] = [Number(text.slice(0, 2)), 2000 + Number(text.slice(2))];
  const sunday = sundayOf(week, year);
  if (sunday !== null) return { plain: [sunday, sunday + 6] };
  const last = sundayOf(53, year) === null ? 52 : 53;
  return {
    problem: `${shortly(text)} is not a week code: ${year} has weeks 01 to ${last}. ` +
      "The first two digits are the week, the last two the year.",
  };
}

// The day on which the week begins; null where the year has no such week.
function sundayOf(week, year) {
  const newYear = dayNumber(year, 1, 1);
  const sunday = newYear + ((7 - (newYear % 7)) % 7) + 7 * (week - 1);
  return week > 0 && calendarDay(sunday).year === year ? sunday : null;
}

// Tyres had codes of three digits from 1971 (from memory) to 1 July 2000.
function whyNoWeekCode(text) {
  const years = /^\d{3}$/.test(text) ? [1970, 1980, 1990, 2000] : [];
  const sundays = years
    .map((decade) => sundayOf(Number(text.slice(0, 2)), decade + Number(text[2])))
    .filter((sunday) => sunday !== null && sunday >= dayNumber(1971, 1, 1))
    .filter((sunday) => sunday < dayNumber(2000, 7, 2));
  if (!sundays.length) {
    return `${shortly(text)} is not a week code: write ${dateWords({ kind: "week code" })}.`;
  }
  const weeks = listed(sundays.map((sunday) => longForm([sunday, sunday + 6])), "or");
  return `${shortly(text)} has three digits, as on tyres made before 2000, and does not say ` +
    `which decade: it may be ${weeks}. A week code here has four digits.`;
}
