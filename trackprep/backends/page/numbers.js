// Exact rational numbers, and numbers known to lie between two: as in trackprep/enclosures.py.
// A rational is {n, d} of two BigInts in lowest terms, d above zero; an enclosure {low, high}
// of two rationals. "No value" is null.

const MOST_BITS = 1 << 16;
const LONG = 400;  // ends of more bits are rounded outward
const KEPT = 60;  // digits

// ---- rationals --------------------------------------------------------------

function ratio(n, d = 1n) {
  if (d < 0n) [n, d] = [-n, -d];
  if (d === 1n) return { n, d };
  let [one, other] = [n < 0n ? -n : n, d];
  while (other) [one, other] = [other, one % other];
  return { n: n / one, d: d / one };
}

function rational(text) {
  const [n, d = "1"] = text.split("/");
  return ratio(BigInt(n), BigInt(d));
}

const plus = (one, other) => ratio(one.n * other.d + other.n * one.d, one.d * other.d);
const minus = (one, other) => ratio(one.n * other.d - other.n * one.d, one.d * other.d);
const times = (one, other) => ratio(one.n * other.n, one.d * other.d);
const over = (one, other) => ratio(one.n * other.d, one.d * other.n);

function compare(one, other) {
  const [left, right] = [one.n * other.d, other.n * one.d];
  return left < right ? -1 : left > right ? 1 : 0;
}

const least = (numbers) => numbers.reduce((a, b) => (compare(b, a) < 0 ? b : a));
const greatest = (numbers) => numbers.reduce((a, b) => (compare(b, a) > 0 ? b : a));

function floored(n, d) {
  const whole = n / d;
  return n % d < 0n ? whole - 1n : whole;
}

function bitLength(n) {
  if (n === 0n) return 0;
  const digits = (n < 0n ? -n : n).toString(16);
  return 4 * (digits.length - 1) + 32 - Math.clz32(parseInt(digits[0], 16));
}

const bits = (number) => Math.max(bitLength(number.n), bitLength(number.d));

// ---- ends -------------------------------------------------------------------

const isEnclosure = (number) => number.low !== undefined;
const endsOf = (number) => (isEnclosure(number) ? [number.low, number.high] : [number, number]);

// The number rounded to KEPT significant digits, down or up.
function shortened({ n, d }, up) {
  if (n === 0n) return { n, d };
  const length = (whole) => (whole < 0n ? -whole : whole).toString().length;
  let places = KEPT - length(n) + length(d);
  const power = () => 10n ** BigInt(Math.abs(places));
  const scaled = () => (places < 0 ? [n, d * power()] : [n * power(), d]);
  let [top, bottom] = scaled();
  if ((top < 0n ? -top : top) >= bottom * 10n ** BigInt(KEPT)) {
    places -= 1;
    [top, bottom] = scaled();
  }
  const whole = up ? -floored(-top, bottom) : floored(top, bottom);
  return places < 0 ? ratio(whole * power()) : ratio(whole, power());
}

const below = (number) => shortened(number, false);
const above = (number) => shortened(number, true);

function between(low, high) {
  if (compare(low, high) === 0) return low;
  return {
    low: bits(low) > LONG ? below(low) : low,
    high: bits(high) > LONG ? above(high) : high,
  };
}

const bounded = (number) => (Math.max(...endsOf(number).map(bits)) > MOST_BITS ? null : number);

// -1, 0 or 1; null where it is not proved.
function order(one, other) {
  if (!isEnclosure(one) && !isEnclosure(other)) return compare(one, other);
  const [[low, high], [otherLow, otherHigh]] = [endsOf(one), endsOf(other)];
  return compare(high, otherLow) < 0 ? -1 : compare(low, otherHigh) > 0 ? 1 : null;
}

const keyOf = (number) =>
  number === null ? "" : endsOf(number).map(({ n, d }) => `${n}/${d}`).join(" ");

// ---- arithmetic -------------------------------------------------------------

const corners = (one, other, work) =>
  endsOf(one).flatMap((left) => endsOf(other).map((right) => work(left, right)));

function calculated(one, sign, other) {
  const [[low, high], [otherLow, otherHigh]] = [endsOf(one), endsOf(other)];
  switch (sign) {
    case "+":
      return between(plus(low, otherLow), plus(high, otherHigh));
    case "-":
      return between(minus(low, otherHigh), minus(high, otherLow));
    case "/":
      if (otherLow.n <= 0n && otherHigh.n >= 0n) return null;
  }
  const exact = !isEnclosure(one) && !isEnclosure(other);
  const work = sign === "*" ? times : over;
  if (exact) return bounded(work(one, other));
  const all = corners(one, other, work);
  return bounded(between(least(all), greatest(all)));
}

function extreme(which, numbers) {
  const [lows, highs] = [0, 1].map((end) => numbers.map((number) => endsOf(number)[end]));
  const pick = which === "minimum" ? least : greatest;
  return between(pick(lows), pick(highs));
}

// To the nearest multiple of the step, ties away from zero; or to the next one not above.
function rounded(number, step, down) {
  const multiple = (end) => {
    const { n, d } = over(end, step);
    if (down) return times(ratio(floored(n, d)), step);
    const size = times(ratio(floored(2n * (n < 0n ? -n : n) + d, 2n * d)), step);
    return n > 0n ? size : ratio(-size.n, size.d);
  };
  return between(...endsOf(number).map(multiple));
}
