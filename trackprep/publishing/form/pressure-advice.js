// What a tyre maker's figure equals now, what a reading asks for, and what is dangerous: as
// trackprep/pressures: setting.py, advice.py and pages.py, word for word, but that a hot target is
// left to the command line.

const WARMER_HOURS = [1, 2, 3, 4];

// ---- what the figure equals -------------------------------------------------

// What to set a cold tyre to that is as warm as the air, {tyre, figures, air, equals, goal,
// thumb, later: [[air, pressure]], cautions, steps}; null where no figure is noted.
function pressureSetting(gauges, tyre, figures, air, altitude) {
  const { figure, least } = figures;
  if (!figure) return null;
  const bench = new PressureBench(gauges);
  const givenAt = figures["given-at"];
  let [equals, thumb] = [figure, null];
  if (givenAt) {
    equals = bench.became(figure, givenAt, air, figures["given-altitude"], altitude);
    const given = { set: figure, "set-at": givenAt, now: air };
    thumb = { value: bench.work("pressure-by-thumb", given), unit: figure.unit, text: "" };
  }
  const goal = bench.toSet(equals, least);
  const table = new PressureBench(gauges);  // by the same formula, not told for each row
  const step = air.unit === "°F" ? ratio(50n, 9n) : ratio(5n);
  const later = WARMER_HOURS.map((hours) => {
    const value = plus(air.value, times(ratio(BigInt(hours)), step));
    const warmer = { value, unit: air.unit, text: "" };
    return [warmer, table.became(goal, air, warmer, altitude, altitude)];
  });
  const found = { tyre, figures, air, equals, goal, thumb, later, steps: bench.steps };
  const cautions = [...pressureDangers(bench, tyre, figures), ...dangersNow(bench, found)];
  return { ...found, cautions: [...cautions, gauges.cold, ...bench.cautions] };
}

// What is wrong with the figures of a tyre, each told apart from the others.
function pressureDangers(bench, tyre, figures) {
  const { figure, least, sidewall, road, "hot-target": target } = figures;
  const said = (amount) => bench.said(amount);
  return [
    reaches(figure, sidewall) && `The track figure of the ${tyre} tyre, ${said(figure)}, reaches`
      + ` the maximum on its sidewall, ${said(sidewall)}. The maximum is no setting: take the`
      + " figure that the tyre's maker gives for the track.",
    isBelow(figure, least) && `The track figure of the ${tyre} tyre, ${said(figure)}, is less than`
      + ` the least that its maker allows, ${said(least)}. Look up both again; do not go below the`
      + " least.",
    reaches(figure, road) && reaches(road, figure) && `The track figure of the ${tyre} tyre is the`
      + ` same as the road figure, ${said(road)}: make sure that it is the tyre maker's figure for`
      + " the track, and not the one in the machine's manual.",
    isBelow(sidewall, road) && `The road figure of the ${tyre} tyre, ${said(road)}, is more than`
      + ` the maximum on its sidewall, ${said(sidewall)}: look up both again before you set it.`,
    reaches(target, sidewall) && `The hot target of the ${tyre} tyre, ${said(target)}, reaches the`
      + ` maximum on its sidewall, ${said(sidewall)}: ask the tyre's maker before you ride so.`,
  ].filter(Boolean);
}

// The same of what the figure becomes.
function dangersNow(bench, { tyre, figures, air, equals, goal }) {
  const { figure, least, sidewall } = figures;
  const said = (amount) => bench.said(amount);
  return [
    isBelow(equals, least) && `At ${said(air)} the ${tyre} figure equals ${said(equals)}, which is`
      + ` less than the least that the maker allows: set ${said(least)}, no less.`,
    reaches(goal, sidewall) && isBelow(figure, sidewall) && `At ${said(air)} the ${tyre} setting,`
      + ` ${said(goal)}, reaches the maximum on the sidewall, ${said(sidewall)}: set less, and ask`
      + " the tyre's maker.",
  ].filter(Boolean);
}

// The last thing to do: the road pressures, cold.
function roadPressureLine(bench, figures) {
  const known = LOG_TYRES.filter((tyre) => figures[tyre].road);
  const [missing] = LOG_TYRES.filter((tyre) => !figures[tyre].road);
  const start = "Before the road, when the tyres have cooled down: set ";
  if (!known.length) {
    return `${start}both tyres, cold, to the road figures in the machine's manual.`;
  }
  const told = known.map((tyre) => `the ${tyre} tyre to ${bench.said(figures[tyre].road)}`);
  const line = `${start}${told.join(" and ")}, cold, by the road figure in the machine's manual`;
  const more = missing ? `; the ${missing} tyre too, whose road figure is not noted here` : "";
  return `${line}${more}.`;
}

// ---- what a reading asks for ------------------------------------------------

// {do, says, goal, cautions, steps} of one reading of a day, after those before it.
function pressureAdvice(gauges, day, reading) {
  const bench = new PressureBench(gauges);
  const cautions = readingDangers(bench, reading);
  const work = reading.state === "hot" ? hotAdvice : coldAdvice;
  try {
    const [what, says, goal = null] = work(bench, reading, day);
    return { do: what, says, goal, cautions, steps: bench.steps };
  } catch (why) {
    if (!(why instanceof PressureFault)) throw why;
    return { do: "nothing known", says: `${why.message}.`, goal: null, cautions, steps: [] };
  }
}

function readingDangers(bench, { tyre, pressure, state, figures: { least, sidewall } }) {
  const advised = state === "hot"
    ? "let it cool, check it cold, and ask the tyre's maker"
    : "bleed it before you ride";
  return [
    isBelow(pressure, least) && `The ${tyre} tyre, ${bench.said(pressure)}, is below the least that`
      + ` its maker allows, ${bench.said(least)}: do not ride on it; add air.`,
    reaches(pressure, sidewall) && `The ${tyre} tyre, ${bench.said(pressure)}, reaches the maximum`
      + ` on its sidewall, ${bench.said(sidewall)}: ${advised}.`,
  ].filter(Boolean);
}

// The temperature of the gas: the tyre's; of a cold tyre without its own, the air's.
const gasOf = ({ warm, air, state }) => warm ?? (state === "cold" ? air : undefined);

function coldAdvice(bench, reading, day) {
  const { tyre, pressure, figures: { figure, least } } = reading;
  if (!figure) {
    return ["nothing known", `The tyre maker's track figure of the ${tyre} tyre is not noted:`
      + " note it under “Figures”."];
  }
  const [equals, sentence] = figureNow(bench, day, reading);
  if (!equals) return ["nothing known", sentence];
  const goal = bench.toSet(equals, least);
  const why = isBelow(equals, least)
    ? `${sentence} That is below the least that the maker allows, so the least counts.`
    : sentence;
  if (bench.alike(pressure, goal, pressure.unit)) return ["leave", `${why} Leave it.`, goal];
  const gap = bench.apart(pressure, goal);
  const to = `to ${bench.said(goal)}, and read it again.`;
  if (!isBelow(pressure, goal)) return ["bleed", `${why} Bleed ${gap}, cold, ${to}`, goal];
  return ["add", `${why} Add ${gap}, ${to}${airLost(bench, day, reading)}`, goal];
}

// What the figure equals at this temperature, and the sentence that says so.
function figureNow(bench, day, reading) {
  const { figure, "given-at": givenAt, "given-altitude": there } = reading.figures;
  const [now, here] = [gasOf(reading), reading.altitude];
  const said = (amount) => bench.said(amount);
  if (givenAt) {
    if (!now) {
      return [null, "Without the temperature of the air nobody can tell what the figure equals"
        + " now: note the reading again with it."];
    }
    const equals = bench.became(figure, givenAt, now, there, here);
    return [equals, `The figure, ${said(figure)} at ${said(givenAt)}, equals ${said(equals)} at`
      + ` ${said(now)}.`];
  }
  const anchor = setBefore(day, reading);
  if (!anchor || !now || !gasOf(anchor)) {
    return [figure, `The figure is ${said(figure)}, cold; its maker gives no temperature for it, so`
      + " it holds for the tyre as it stands."];
  }
  const equals = bench.became(anchor.pressure, gasOf(anchor), now, anchor.altitude, here);
  const then = `${said(anchor.pressure)} at ${said(gasOf(anchor))}`;
  return [equals, `What was set at ${anchor.at}, ${then}, shows`
    + ` ${said(equals)} at ${said(now)} if no air was lost.`];
}

// That air was lost since the tyre was last set cold on that day, where it was.
function airLost(bench, day, reading) {
  const anchor = setBefore(day, reading);
  const now = gasOf(reading);
  if (!anchor || !now || !gasOf(anchor)) return "";
  const others = day.readings.filter((one) =>
    one.tyre === reading.tyre && !sameReading(one, anchor) && !sameReading(one, reading));
  const letOut = others.some(({ set, at }) => set && anchor.at < at && at <= reading.at);
  const kept = bench.became(anchor.pressure, gasOf(anchor), now, anchor.altitude, reading.altitude);
  const { unit, value } = reading.pressure;
  if (letOut || compare(bench.marked(kept.value, unit), bench.marked(value, unit)) <= 0) return "";
  return ` It has lost air since ${anchor.at}, when it was set to ${bench.said(anchor.pressure)}:`
    + " find out why before you ride.";
}

// The last time that this tyre was set cold, on the same day.
function setBefore(day, reading) {
  return day.readings.findLast((one) => one.tyre === reading.tyre && one.set
    && one.state === "cold" && one.at <= reading.at && !sameReading(one, reading));
}

// Equal amounts are equal whatever units they were written in.
function sameReading(one, other) {
  const key = (reading) => JSON.stringify(reading, (name, its) =>
    (its?.value ? keyOf(its.value) : its ?? undefined), 0);
  return one === other || key(one) === key(other);
}

// A hot target is no figure of the maker's, and whether bleeding to it leaves enough cold takes
// the tyre's temperature: that the command line works out, not this page.
function hotAdvice(bench, { figures: { "hot-target": target } }) {
  if (target) {
    return ["hands off", `Noted. Your hot target is ${bench.said(target)}, but this page does not`
      + " work out what would be left of it cold: bleed and add nothing hot, and check it cold."];
  }
  return ["leave", "Noted. The maker's figure is a cold one, and no hot target was typed: bleed"
    + " and add nothing hot, and check it cold."];
}
