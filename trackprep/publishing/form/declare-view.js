// The view in which the rider answers: which questions stand there, and what becomes of an answer.

class Declaring {
  constructor(app) {
    Object.assign(this, { app, touched: new Set() });
    this.sections = groupedBy(app.form.facts, (fact) => fact.section ?? "");
  }

  get form() {
    return this.app.form;
  }

  get kept() {
    return this.app.kept;
  }

  build() {
    this.fields = new Map();
    this.groups = [];
    const place = byId("questions");
    let heading = null;
    let group = null;
    for (const fact of this.form.facts) {
      if (fact.inspector || fact.here) continue;
      if (fact.heading !== heading) {
        heading = fact.heading;
        group = { node: element("section", {}, element("h3", {}, heading)), fields: [] };
        this.groups.push(group);
        place.append(group.node);
      }
      const field = new Field(fact, this);
      this.fields.set(fact.path, field);
      group.fields.push(field);
      group.node.append(field.node);
    }
    for (const [path, typed] of Object.entries(this.kept.typed)) {
      const field = this.fields.get(path);
      field?.complain(readAnswer(field.fact, typed, this.form, this.kept.day).problem ?? "");
    }
  }

  near(fact) {
    return new Set(this.sections.get(fact.section ?? "").map(({ path }) => path));
  }

  // Takes an answer as typed; what is wrong with it, if it cannot be taken.
  answer(fact, typed) {
    const { form, kept } = this;
    this.touched.add(fact.path);
    const read = typed ? readAnswer(fact, typed, form, kept.day) : {};
    this.keepTyped(fact, read.problem && typed);
    this.app.setText(read.written === undefined
      ? withoutAnswer(kept.text, fact.path)
      : withAnswer(kept.text, fact.path, read.written, this.near(fact)));
    return read.problem;
  }

  // What was typed and cannot be read is no part of the declaration, but not lost either.
  keepTyped({ path }, typed) {
    const { [path]: _, ...others } = this.kept.typed;
    this.kept.typed = typed ? { ...others, [path]: typed } : others;
  }

  takeBack(fact) {
    this.touched.add(fact.path);
    this.keepTyped(fact);
    this.fields.get(fact.path).complain("");
    this.app.setText(withoutAnswer(this.kept.text, fact.path));
  }

  unsure(fact, whether) {
    const { text } = this.kept;
    this.touched.add(fact.path);
    if (whether) {
      this.keepTyped(fact);
      this.fields.get(fact.path).complain("");
    }
    this.app.setText(whether
      ? withNote(withoutAnswer(text, fact.path), fact.path, this.near(fact))
      : withoutNote(text, fact.path));
  }

  show() {
    const { given, notKnown } = this.app.read;
    const open = new Set(this.app.open.map(({ path }) => path));
    const unsure = new Set(notKnown);
    const late = new Set(this.app.sittings.flatMap(({ checked }) => checked.future));
    const all = byId("all").checked;
    for (const { node, fields } of this.groups) {
      for (const field of fields) {
        const { path } = field.fact;
        const its = given.get(path);
        const here = open.has(path) || unsure.has(path) || this.touched.has(path)
          || Boolean(its?.problem) || path in this.kept.typed || late.has(path)
          || this.app.wanted === path || (all && Boolean(its));
        field.node.hidden = !here;
        if (here) field.show(its, unsure.has(path), late.has(path));
      }
      node.hidden = fields.every((field) => field.node.hidden);
    }
    this.showLeft(given, unsure);
    this.showStrangers();
  }

  showLeft(given, unsure) {
    const left = this.app.open.length;
    const said = [left ? `${counted(left, "question")} left.` : "No question is left."];
    if (given.size) said.push(`${counted(given.size, "answer")} declared.`);
    if (unsure.size) said.push(`${unsure.size} that you could not tell.`);
    const text = said.join(" ");
    if (byId("left").textContent !== text) byId("left").textContent = text;
  }

  // What the declaration says besides: of the same vocabulary, or of none.
  showStrangers() {
    const paths = this.app.read.strangers.map(({ path }) => path);
    const others = new Set(this.form.others);
    const [known, unknown] = [
      paths.filter((path) => others.has(path)), paths.filter((path) => !others.has(path)),
    ];
    fill(
      byId("strangers"),
      unknown.length ? labelled("Not known here", `${unknown.join(", ")}. No fact has such a name:`
        + " look for a spelling mistake. The lines are kept as they are.", "warning") : null,
      known.length ? element(
        "details", {},
        element("summary", {}, `${counted(known.length, "answer")} that these rules do not ask`),
        element("p", {}, `${known.join(", ")}. These lines are kept as they are.`),
      ) : null,
    );
  }

  // What was typed and is in no declaration, as when there is another one.
  forgetTyping() {
    this.touched.clear();
    this.kept.typed = {};
    for (const field of this.fields.values()) field.complain("");
  }
}

function groupedBy(all, keyOf) {
  const groups = new Map();
  for (const one of all) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one]);
  return groups;
}
