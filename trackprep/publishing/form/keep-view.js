// The view in which the declaration is saved, loaded, copied, pasted, printed and cleared.

class Keeping {
  constructor(app) {
    Object.assign(this, { app, former: null });
  }

  show() {
    const { app } = this;
    byId("declaration").textContent = app.kept.text || "Nothing is declared yet.";
    const wrong = app.read.problems.map(({ line, message }) =>
      element("li", {}, `Line ${line}: ${quotedWords(message)}`));
    fill(byId("problems"), wrong.length
      ? [element("h3", {}, "What cannot be read"), element("ul", {}, ...wrong)] : []);
  }

  listen(on) {
    on("save", "click", () => saveFile("declaration.rider", this.app.kept.text));
    on("copy", "click", () => this.copy());
    on("print", "click", () => window.print());
    on("edit", "click", () => {
      byId("paste").value = this.app.kept.text;
      byId("paste").focus();
    });
    on("load", "change", ({ target }) => this.load(target));
    on("take", "click", () => {
      const { value } = byId("paste");
      if (value.trim()) this.takeOver(value, "taken over");
      else this.app.tell("Nothing is pasted yet.");
    });
    on("before", "click", () => this.takeOver(this.former, "brought back"));
    on("clear", "click", () => this.ask(true));
    on("clear-not", "click", () => this.ask(false));
    on("clear-sure", "click", () => {
      this.clear();
      this.ask(false);
    });
  }

  ask(sure) {
    byId("clear").hidden = sure;
    byId("clear-sure").hidden = byId("clear-not").hidden = !sure;
    byId(sure ? "clear-not" : "clear").focus();
  }

  // The declaration of some other text; the one before can be brought back.
  takeOver(text, from) {
    const { app } = this;
    this.keepFormer(app.kept.text.trim() ? app.kept.text : null);
    app.declaring.forgetTyping();
    app.setText(text);
    app.settingsShown();
    const { problems, strangers, given } = app.read;
    const said = [`${counted(given.size, "answer")} ${from}.`];
    if (problems.length) {
      said.push(`${counted(problems.length, "line")} cannot be read: see below.`);
    }
    if (strangers.length) said.push(`${counted(strangers.length, "line")} these rules do not ask.`);
    app.tell(said.join(" "));
  }

  keepFormer(text) {
    this.former = text;
    byId("before").hidden = text === null;
  }

  async copy() {
    const { app } = this;
    try {
      await navigator.clipboard.writeText(app.kept.text);
      app.tell("The declaration is copied.");
    } catch {
      getSelection().selectAllChildren(byId("declaration"));
      app.tell("This browser lets no page copy: the text is selected, so copy it yourself.");
    }
  }

  async load(input) {
    const [file] = input.files;
    if (!file) return;
    try {
      const text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
      this.takeOver(text, `loaded from ${file.name}`);
    } catch {
      this.app.tell(`${file.name} is no text that can be read. Nothing is changed.`);
    }
    input.value = "";
  }

  clear() {
    const { app } = this;
    if (!app.keeper.clear()) return;
    app.kept = { ...EMPTY, system: app.kept.system, day: app.firstDay() };
    app.pressuresFor = null;
    this.keepFormer(null);
    byId("paste").value = "";
    app.declaring.forgetTyping();
    app.worked();
    app.settingsShown();
    app.tell("This browser keeps nothing of yours any more.");
  }
}
