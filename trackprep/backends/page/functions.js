// Roots, logarithms and powers of ten, enclosed to KEPT digits; what is rational stays exact.
// Everything is worked out in whole multiples of 2^-800, and the true value lies within SLACK
// of them: a series has less than 300 terms, each cut by a few multiples; a logarithm adds
// that of 2 at most 2^17 times, and 16 squarings multiply an error by 2^17.

const PLACES = 800n;
const SCALE = 1n << PLACES;
const SLACK = 1n << 40n;
const LARGEST_POWER = 1000n;

function wholeRoot(n) {
  if (n < 2n) return n;
  let root = 1n << BigInt((bitLength(n) + 1) >> 1);
  for (;;) {
    const next = (root + n / root) >> 1n;
    if (next >= root) return root;
    root = next;
  }
}

function rootOf({ n, d }) {
  const [top, bottom] = [wholeRoot(n), wholeRoot(d)];
  if (top * top === n && bottom * bottom === d) return [ratio(top, bottom), ratio(top, bottom)];
  const square = n * d;
  const more = BigInt(Math.max(0, 200 - (bitLength(square) >> 1)));
  const [whole, divisor] = [wholeRoot(square << (2n * more)), d << more];
  return [below(ratio(whole, divisor)), above(ratio(whole + 1n, divisor))];
}

// 2 artanh(y) = ln((1 + y) / (1 - y)), for y from 0 to 1/3.
function logarithmSeries(y) {
  const square = (y * y) >> PLACES;
  let sum = 0n;
  for (let power = y, k = 1n; power > 0n; k += 2n) {
    sum += power / k;
    power = (power * square) >> PLACES;
  }
  return 2n * sum;
}

const LN_2 = logarithmSeries(SCALE / 3n);
const LN_10 = 3n * LN_2 + logarithmSeries(SCALE / 9n);  // 10 is 8 times 5/4
const about = (scaled, slack = SLACK) => ({
  low: ratio(scaled - slack, SCALE),
  high: ratio(scaled + slack, SCALE),
});
// A power of ten is taken no closer than Python's 130 digits, so that next to 1 the ends agree.
const LAST_DIGIT = SCALE / 10n ** 129n;

function logarithmOf(number) {
  const exponent = exponentOf(number);
  if (exponent !== null) return [exponent, exponent];
  const distance = minus(number, ratio(1n));
  const size = distance.n < 0n ? -distance.n : distance.n;
  const near = size * 10n ** 60n < distance.d;
  // ln(1 + d) lies between d - d² and d wherever |d| is at most 1/2.
  const natural = near
    ? { low: minus(distance, times(distance, distance)), high: distance }
    : about(naturalOf(number));
  const [low, high] = endsOf(calculated(natural, "/", about(LN_10)));
  return [below(low), above(high)];
}

function naturalOf({ n, d }) {
  let twos = bitLength(n) - bitLength(d);
  const scaled = () => (twos < 0 ? [n << BigInt(-twos), d] : [n, d << BigInt(twos)]);
  if (scaled()[0] < scaled()[1]) twos -= 1;
  const [top, bottom] = scaled();  // from 1 to 2
  return logarithmSeries(((top - bottom) << PLACES) / (top + bottom)) + BigInt(twos) * LN_2;
}

// Of a power of ten, its exponent: no other rational number has a rational logarithm.
function exponentOf({ n, d }) {
  if (n !== 1n && d !== 1n) return null;
  const digits = (n > d ? n : d).toString();
  if (!/^10*$/.test(digits)) return null;
  return ratio(BigInt(digits.length - 1) * (n >= d ? 1n : -1n));
}

function powerOfTen(number) {
  const whole = floored(number.n, number.d);
  const scale = whole < 0n ? ratio(1n, 10n ** -whole) : ratio(10n ** whole);
  if (number.d === 1n) return [scale, scale];
  const part = ((number.n - whole * number.d) * LN_10) / number.d;
  const { low, high } = about(exponential(part), LAST_DIGIT / 2n);
  return [below(times(scale, low)), above(times(scale, high))];
}

function exponential(scaled) {
  const small = scaled >> 16n;
  let sum = 0n;
  for (let term = SCALE, k = 1n; term > 0n; k += 1n) {
    sum += term;
    term = ((term * small) >> PLACES) / k;
  }
  for (let squaring = 0; squaring < 16; squaring += 1) sum = (sum * sum) >> PLACES;
  return sum;
}

// ---- of numbers that may be enclosed -----------------------------------------

function rising(work, number) {
  if (!isEnclosure(number)) return between(...work(number));
  return between(work(number.low)[0], work(number.high)[1]);
}

const FUNCTIONS = {
  "sqrt": (number) => (endsOf(number)[0].n < 0n ? null : rising(rootOf, number)),
  "log10": (number) => (endsOf(number)[0].n <= 0n ? null : rising(logarithmOf, number)),
  "ten-to": (number) => {
    const [low, high] = endsOf(number);
    if (low.n < -LARGEST_POWER * low.d || high.n > LARGEST_POWER * high.d) return null;
    return rising(powerOfTen, number);
  },
};

const MOST_KEPT = 1024;
const worked = new Map();

function called(name, number) {
  const key = `${name} ${keyOf(number)}`;
  if (!worked.has(key)) {
    if (worked.size >= MOST_KEPT) worked.clear();
    worked.set(key, FUNCTIONS[name](number));
  }
  return worked.get(key);
}
