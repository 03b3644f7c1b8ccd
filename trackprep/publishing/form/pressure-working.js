// Pressures worked out by the formulas of the vocabulary, and said as a gauge shows them: as
// trackprep/pressures/working.py and trackprep/measures/figures.py.

const PUT_IN = /([−+×÷] )?\{(absolute )?([a-z-]+)\}/g;

// Pressures worked out by the formulas of the vocabulary, the working noted down.
class PressureBench {
  constructor(gauges) {
    const ruleset = new Ruleset(gauges.plain);
    Object.assign(this, { gauges, ruleset, steps: [], cautions: [] });
  }

  // The result of a formula for amounts by its parameters, in base units.
  work(name, given) {
    const { node, cautions } = this.gauges.formulas[name];
    const { places } = this.ruleset;
    const values = Object.entries(given).map(([its, { value }]) => [places.get(its), value]);
    const [found] = new Reading(this.ruleset, new Map(values), FIRST_DAY).numbers(node);
    if (found === null) {
      const shown = Object.entries(given).map(([its, one]) => `${its} ${this.shown(one)}`);
      throw new PressureFault(`\`${name}\` has no value for ${shown.join(", ")}`);
    }
    const [low, high] = endsOf(found);
    const value = low === high ? low : times(plus(low, high), ratio(1n, 2n));
    this.steps.push(this.step(name, given, value));
    this.cautions = [...new Set([...this.cautions, ...cautions])];
    return value;
  }

  // {label, text, source}: a line of working, with its numbers put in.
  step(name, given, value) {
    const { label, symbols, numbers, source } = this.gauges.formulas[name];
    const put = numbers.replace(PUT_IN, (_, sign = "", kelvin, its) => {
      const text = this.shown(kelvin ? { ...given[its], unit: "K" } : given[its]);
      return sign + (sign && /^(about )?-/.test(text) ? `(${text})` : text);
    });
    const [own, ...others] = this.beside("kPa").map((unit) => this.shown({ value, unit }));
    return { label, text: `${symbols} = ${put} = ${bracketed(own, others)}`, source };
  }

  // What a gauge shows of the same air at another temperature, and perhaps altitude.
  became({ value, unit }, then, now, there, here) {
    const set = { value, unit };
    const altitudes = [there ?? here, here ?? there];
    const given = { set, "set-at": then, now };
    if (!altitudes[0]) return { value: this.work("pressure-at-sea", given), unit, text: "" };
    const [outsideThen, outsideNow] = altitudes.map((altitude) =>
      ({ value: this.work("outside-pressure", { altitude }), unit: "kPa" }));
    const both = { "outside-then": outsideThen, "outside-now": outsideNow };
    return { value: this.work("pressure-now", { ...given, ...both }), unit, text: "" };
  }

  // ---- as a gauge shows it --------------------------------------------------

  beside(unit) {
    return this.gauges.beside[unit];
  }

  shown({ value, unit }) {
    return showAmount(rationalText(value), unit, this.gauges.units);
  }

  // To the nearest that an instrument of the paddock shows.
  marked(value, unit) {
    const places = this.gauges.decimals[unit];
    if (places === undefined) return value;
    const [whole, decimals = ""] = fixedText(this.gauges.inUnit(value, unit), places).split(".");
    const number = ratio(BigInt(whole + decimals), 10n ** BigInt(decimals.length));
    return this.gauges.fromUnit(number, unit);
  }

  alike(one, other, unit) {
    return compare(this.marked(one.value, unit), this.marked(other.value, unit)) === 0;
  }

  // `29.6 psi (about 2.04 bar, 204 kPa)`; what was typed stays as it is in its own unit.
  said(amount) {
    const [own, ...others] = this.beside(amount.unit).map((unit) =>
      this.nearly(amount.value, unit));
    if (!amount.text) return bracketed(own, others);
    const exact = this.shown(amount);
    if (!others.length) return exact;
    const text = bracketed(own, others).slice(own.length);
    const about = own.startsWith("about ") && !exact.startsWith("about ");
    return exact + (about ? text.replace(" (", " (about ") : text);
  }

  nearly(value, unit) {
    const nearest = this.marked(value, unit);
    const { n } = this.gauges.inUnit(nearest, unit);
    if (compare(nearest, value) === 0 || n === 0n) return this.shown({ value, unit });
    return `about ${this.shown({ value: nearest, unit })}`;
  }

  // The goal as a gauge can show it, but never below the least that is allowed.
  toSet(goal, least) {
    let value = this.marked(goal.value, goal.unit);
    if (least && compare(value, least.value) < 0) value = least.value;
    return { value, unit: goal.unit, text: this.shown({ value, unit: goal.unit }) };
  }

  apart(one, other) {
    const { n, d } = minus(one.value, other.value);
    return this.said({ value: { n: n < 0n ? -n : n, d }, unit: one.unit, text: "" });
  }
}

// `31 psi (about 2.14 bar, 214 kPa)`, with one `about` for all behind the exact ones.
function bracketed(first, others) {
  if (!others.length) return first;
  const exact = others.filter((one) => !one.startsWith("about "));
  const rest = others.filter((one) => one.startsWith("about ")).map((one) => one.slice(6));
  if (rest.length && !first.startsWith("about ")) rest[0] = `about ${rest[0]}`;
  return `${first} (${[...exact, ...rest].join(", ")})`;
}

const reaches = (one, other) => Boolean(one && other) && compare(one.value, other.value) >= 0;
const isBelow = (one, other) => Boolean(one && other) && compare(one.value, other.value) < 0;
