// Days as whole numbers, 1 January of the year 1 being 1; spans {first, last} of them.
// As in trackprep/dates and trackprep/backends/days.py.

const FIRST_DAY = 1;
const END_OF_CALENDAR = 3652059;  // 31 December 9999
const LAST_DAY = 3651694;  // a year before it: where durations stop
const LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

function monthLength(year, month) {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return month === 2 && leap ? 29 : LENGTHS[month - 1];
}

function daysBefore(year) {
  const past = year - 1;
  return past * 365 + Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
}

function dayNumber(year, month, day) {
  let number = daysBefore(year) + day;
  for (let before = 1; before < month; before += 1) number += monthLength(year, before);
  return number;
}

function calendarDay(number) {
  let year = Math.floor((number - 1) / 365.2425) + 1;
  while (daysBefore(year) >= number) year -= 1;
  while (daysBefore(year + 1) < number) year += 1;
  let day = number - daysBefore(year);
  let month = 1;
  for (; day > monthLength(year, month); month += 1) day -= monthLength(year, month);
  return { year, month, day };
}

const oneDay = (number) => ({ first: number, last: number });
const isSpan = (value) => value !== undefined && value.first !== undefined;
const isCoarse = (value) => isSpan(value) && value.first !== value.last;

// The year and the month so many months on; the year may be no calendar's.
function monthOn({ year, month }, months) {
  const count = year * 12 + month - 1 + months;
  const years = Math.floor(count / 12);
  return { year: years, month: count - 12 * years + 1 };
}

// The day so many months on, then so many days on; null outside the calendar.
function added(number, months, days) {
  const start = calendarDay(number);
  const { year, month } = monthOn(start, months);
  if (year < 1 || year > 9999) return null;
  const day = dayNumber(year, month, Math.min(start.day, monthLength(year, month))) + days;
  return day < FIRST_DAY || day > END_OF_CALENDAR ? null : day;
}

function shiftedDay(number, months, days) {
  const day = added(number, months, days);
  if (day !== null) return Math.min(day, LAST_DAY);
  return months >= 0 && days >= 0 ? LAST_DAY : FIRST_DAY;
}

// ---- ages -------------------------------------------------------------------

function completedYears(born, on) {
  const years = calendarDay(on).year - calendarDay(born).year;
  return added(born, 12 * years, 0) <= on ? years : years - 1;
}

function cut(number, grain) {
  const { year, month, day } = calendarDay(number);
  return dayNumber(year, grain === "year" ? 1 : month, grain === "day" ? day : 1);
}

// The first day whose same day so many months on is the event or later; null before the year 1.
function firstToReach(event, months) {
  const { day } = calendarDay(event);
  const { year, month } = monthOn(calendarDay(event), -months);
  if (year < 1 || year > 9999) return null;
  return dayNumber(year, month, Math.min(day, monthLength(year, month) + 1));
}

// An age test of a day is "on or after `day`", or (not `since`) "before it".
function ageBoundary(event, comparison, months, days, grain) {
  const reached = comparison === "at most" || comparison === "more than";
  const since = comparison === "at most" || comparison === "less than";
  const next = grain === "day" ? [0, 1] : [grain === "month" ? 1 : 12, 0];
  const target = cut(reached ? event : added(event, ...next), grain);
  const first = firstToReach(target, months);
  const day = first === null ? FIRST_DAY : first - days;
  return { since, day: day < FIRST_DAY || day > END_OF_CALENDAR ? FIRST_DAY : day };
}

function ageHolds(made, on, comparison, months, days, grain) {
  const [one, other] = [on.first, on.last].map((event) => {
    const { day, since } = ageBoundary(event, comparison, months, days, grain);
    return made.first >= day ? since : made.last < day ? !since : null;
  });
  return one === other ? one : null;
}
