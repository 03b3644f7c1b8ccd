// The view in which the declaration is saved, loaded, copied, pasted, printed and cleared.

class Keeping {
  constructor(app) {
    this.app = app;
  }

  show() {
    const { app } = this;
    byId("declaration").textContent = app.kept.text || "Nothing is declared yet.";
    const wrong = app.read.problems.map(({ line, message }) =>
      element("li", {}, `Line ${line}: ${quotedWords(message)}`));
    byId("before").hidden = app.kept.former === null;
    fill(byId("problems"), wrong.length
      ? [element("h3", {}, "What cannot be read"), element("ul", {}, ...wrong)] : []);
  }

  listen(on) {
    on("save", "click", () => saveFile(this.fileName(), this.app.kept.text));
    on("copy", "click", () => this.copy());
    on("edit", "click", () => {
      byId("paste").value = this.app.kept.text;
      byId("paste").focus();
    });
    on("load", "change", ({ target }) => this.load(target));
    on("take", "click", () => {
      const { value } = byId("paste");
      if (value.trim()) this.takeOver(value, "loaded");
      else this.app.tell("Nothing is pasted yet.");
    });
    on("before", "click", () => this.takeOver(this.app.kept.former, "brought back"));
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

  fileName() {
    const title = (this.app.read.title ?? "").replace(/[^\p{L}\p{N}]+/gu, "-");
    return `${title.replace(/^-|-$/g, "").slice(0, 60).toLowerCase() || "declaration"}.rider`;
  }

  // The declaration of some other text; the one before can be brought back.
  takeOver(text, how) {
    const { app } = this;
    const { problems, strangers, given, title, notKnown } = readDeclaration(text, app.form);
    if (!given.size && !strangers.length && !title && !notKnown.length) {
      app.tell("Nothing of it can be read as a declaration, so nothing is changed.");
      return;
    }
    app.declaring.forgetTyping();
    const { text: former } = app.kept;
    app.keep({ text, former: former.trim() ? former : app.kept.former }, true);
    app.settingsShown();
    const read = [...given.values()].filter((one) => one.plain !== undefined).length;
    const said = [`${counted(read, "answer")} ${how}.`];
    const lines = (some) => counted(some.length, "line");
    if (problems.length) said.push(`${lines(problems)} cannot be read: see below.`);
    if (strangers.length) said.push(`${lines(strangers)} these rules do not ask.`);
    app.tell(said.join(" "));
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
    const cleared = app.keeper.clear();
    app.kept = { ...EMPTY, system: app.kept.system, day: app.firstDay() };
    app.pressuresFor = null;
    byId("paste").value = "";
    byId("all").checked = false;
    app.declaring.forgetTyping();
    app.worked();
    app.settingsShown();
    if (cleared) app.tell("This page keeps nothing of yours any more.");
  }
}
