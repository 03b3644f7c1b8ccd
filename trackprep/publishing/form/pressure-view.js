// The tyre pressures of the day as a part of the page: figures, what they equal now, readings
// with what each asks for, and the log as the text that `trackprep pressures` keeps.

// Builds the part in `place`. `kept` is {text, system, units, pressures, onChange}: the log's
// text, "metric" or "imperial", the form's units, what trackprep/pressures/plain.py makes, and
// what is called with the log's new text.
function pressureSection(place, kept) {
  const view = new PressureView(kept);
  fill(place, ...view.parts());
  view.show();
}

class PressureView {
  constructor(kept) {
    Object.assign(this, { kept, text: kept.text, gauges: new Gauges(kept) });
    this.bench = new PressureBench(this.gauges);
    for (const name of ["known", "setting", "readings", "faults"]) this[name] = element("div");
    for (const name of ["now", "answer"]) this[name] = element("div", { "aria-live": "polite" });
    this.end = element("p");
    this.pre = element("pre", { tabindex: "0", role: "region", "aria-label": "The pressure log" });
  }

  parts() {
    const { cold, when, wins } = this.gauges;
    const head = (text) => element("h3", {}, text);
    return [
      cautionLine(cold),
      head("Figures"), this.known, this.figureForm(),
      head("What to set now"), this.nowForm(), this.now, this.setting,
      head("Readings"), this.readingForm(), this.answer, this.readings,
      head("When to check"), pairs(when), element("p", {}, wins),
      head("The log"), this.faults, this.pre, ...this.files(), this.end,
    ];
  }

  // ---- the forms ----

  fields(part, names) {
    return names.map((name) => new AmountField(name, part, this.gauges, this.kept.system));
  }

  figureForm() {
    const tyre = chosenField("Tyre", LOG_TYRES);
    const names = ["figure", "given-at", "given-altitude", "least", "sidewall", "road"];
    const fields = this.fields("figures", names);
    return pressureForm("Note figures of a tyre", [tyre, ...fields], "Note these figures", () => {
      const figures = amountsOf(fields);
      if (!figures) return;
      const lines = figureLines(tyre.value, figures, this.gauges);
      if (!figures.figure && (figures["given-at"] || figures["given-altitude"])) {
        fields[0].tell("A temperature and an altitude belong to a figure: write it here.");
      } else if (!lines.length) {
        fields[0].tell("Write at least one figure.");
      } else {
        this.add(lines);
        fields.forEach((one) => one.clear());
      }
    });
  }

  nowForm() {
    this.here = this.fields("now", ["air", "altitude"]);
    for (const field of this.here) field.onChange = () => this.showSetting();
    return element("div", {}, ...this.here.map((one) => one.node));
  }

  readingForm() {
    const tyre = chosenField("Tyre", LOG_TYRES);
    const state = chosenField("The tyre is", ["cold", "hot"]);
    const verb = chosenField("You", ["read it", "set it"]);
    const fields = this.fields("reading", ["pressure", "air", "tyre", "altitude"]);
    const [pressure, ...others] = fields;
    const note = inputField("Note", element("input", { type: "text", maxlength: "200" }));
    const all = [tyre, pressure, state, verb, ...others, note];
    return pressureForm("Note a reading", all, "Note this reading", () => {
      const amounts = amountsOf(fields, "pressure");
      if (!amounts) return;
      const reading = {
        ...pressureClock(new Date()), ...amounts, warm: amounts.tyre, tyre: tyre.value,
        state: state.value, set: verb.value === "set it", note: note.value,
      };
      // The paddock stays where it is.
      const before = pressureDay(this.log(), reading.day).readings;
      reading.altitude ??= before.findLast((one) => one.altitude)?.altitude;
      this.add([readingLine(reading, this.gauges)]);
      const log = this.log();
      fill(this.answer, ...this.advice(pressureDay(log, reading.day), log.readings.at(-1), true));
      pressure.clear();
      note.clear();
    });
  }

  files() {
    const save = element("button", { type: "button" }, "Save as pressures.log");
    save.addEventListener("click", () => saveFile("pressures.log", this.text));
    const back = element("button", { type: "button" }, "Take the last line back");
    back.addEventListener("click", () => this.takeBack());
    const load = element("input", { type: "file" });
    load.addEventListener("change", async () => {
      const [file] = load.files;
      if (file) this.changed(withLogOf(this.text, await file.text(), this.kept));
      load.value = "";
    });
    return [
      element("p", { class: "buttons" }, save, back),
      inputField("Add the lines of a log from another device", load).node,
    ];
  }

  // ---- what changes ----

  log() {
    return readPressureLog(this.text, this.kept);
  }

  add(lines) {
    this.changed(withLogLines(this.text, lines, this.kept));
  }

  // Only what was noted last: a slip is mended at once, or by hand in the saved log.
  takeBack() {
    const lines = this.text.trimEnd().split(/\r?\n/);
    const last = lines.pop();
    if (!last || last.startsWith("#")) return;
    this.changed(`${lines.join("\n")}\n`);
    fill(this.answer, element("p", {}, `Taken back: ${last}`));
  }

  changed(text) {
    this.text = text;
    this.kept.onChange(text);
    this.show();
  }

  // ---- what is shown ----

  show() {
    const { figures, readings, problems } = this.log();
    fill(this.known, ...LOG_TYRES.flatMap((tyre) => this.figures(tyre, figures[tyre])));
    this.showSetting();
    const last = readings.map(({ day }) => day).sort().at(-1);
    fill(this.readings, ...(last ? this.day(pressureDay(this.log(), last)) : []));
    this.pre.textContent = this.text || "Nothing is noted yet.";
    fill(this.faults, ...problems.map(({ line, text, message, expected }) => element("p", {},
      quotedWords(`Line ${line}, “${text}”: ${message}${expected && `; expected: ${expected}`}`))));
    this.end.textContent = roadPressureLine(this.bench, figures);
  }

  figures(tyre, figures) {
    const rows = knownFigures(this.bench, figures);
    return rows.length ? [
      element("h4", {}, `${capitalized(tyre)} tyre`),
      ...pressureDangers(this.bench, tyre, figures).map((text) => cautionLine(text)), pairs(rows),
    ] : [];
  }

  showSetting() {
    const { figures } = this.log();
    const { air, altitude } = amountsOf(this.here) ?? {};
    let found = [];
    let told = "With the temperature of the air, what each figure equals now stands here.";
    try {
      if (air) {
        found = LOG_TYRES.map((tyre) =>
          pressureSetting(this.gauges, tyre, figures[tyre], air, altitude)).filter(Boolean);
        told = found.map(({ tyre, goal }) => `${capitalized(tyre)}: set ${this.bench.said(goal)}.`)
          .join(" ") || "No track figure is noted yet.";
      }
    } catch (why) {
      told = faultText(why);
    }
    fill(this.now, element("p", {}, told));  // in short, since it is read out
    const cautions = new Set(found.flatMap((one) => one.cautions));
    const parts = found.flatMap((one) => this.settingParts(one));
    fill(this.setting, ...[...cautions].map((text) => cautionLine(text)), ...parts);
  }

  settingParts({ tyre, figures, goal, equals, thumb, air, later, steps }) {
    const said = (amount) => this.bench.said(amount);
    const rows = thumb
      ? [["The same now", said(equals)], ["By rule of thumb", said(thumb)]]
      : [["Given for", "no temperature: it holds for the tyre as it stands, cold"]];
    const least = figures.least ? "" : "not noted: look it up, never go below";
    return [
      element("h4", {}, `${capitalized(tyre)} tyre: set ${said(goal)}`),
      pairs([
        ...knownFigures(this.bench, figures).slice(0, 1), ...rows,
        ["Least that its maker allows", least],
      ]),
      element("p", {}, "The same air as the day warms, cold and in the shade: leave it then"),
      table(["Air", "Gauge"], [[air, goal], ...later].map((row) => row.map(said))),
      workingOf(steps),
    ];
  }

  day(day) {
    const items = day.readings.map((reading) => {
      const { at, tyre, pressure, state, set, note } = reading;
      const said = `${at}, ${tyre}, ${this.bench.said(pressure)}, ${state}${set ? ", set" : ""}`;
      const noted = note && `: ${note}`;
      return element("li", {}, said + noted, ...this.advice(day, reading));
    });
    return [element("h4", {}, longForm(dayOf(day.day))), element("ol", {}, ...items)];
  }

  // What a reading asks for; the working too where it is the one just noted.
  advice(day, reading, worked = false) {
    const { do: what, says, cautions, steps } = pressureAdvice(this.gauges, day, reading);
    const doing = element("strong", {}, `${capitalized(what)}:`);
    return [
      ...cautions.map((text) => cautionLine(text)), element("p", {}, doing, ` ${says}`),
      worked ? workingOf(steps) : null,
    ];
  }
}

// The figures of a tyre by their names, so that nobody takes one for another.
function knownFigures(bench, figures) {
  const { figure, least, sidewall, road, "hot-target": target } = figures;
  const [at, up] = ["given-at", "given-altitude"].map((name) =>
    figures[name] && bench.said(figures[name]));
  const given = (at ? ` at ${at}` : "") + (up ? `, ${up} up` : "");
  return [
    ["Tyre maker's track figure, cold", figure, given],
    ["Least that its maker allows, cold", least], ["Maximum on the sidewall, no setting", sidewall],
    ["Hot target that you typed", target], ["Machine's road figure, cold", road],
  ].filter(([, amount]) => amount)
    .map(([name, amount, more = ""]) => [name, bench.said(amount) + more]);
}

// ---- pieces -----------------------------------------------------------------

function workingOf(steps) {
  if (!steps.length) return null;
  const lines = steps.map(({ label, text, source }) =>
    element("li", {}, `${label}: ${text} (source: ${source})`));
  return element("details", {}, element("summary", {}, "Working"), element("ol", {}, ...lines));
}
