// What stays in this browser, under one name; a browser that keeps nothing is told once.

const EMPTY = {
  text: "", former: null, typed: {}, log: "", day: null, system: "metric", arrival: null, ticks: [],
};

class Keeper {
  // `told(sentence)` tells the rider what went wrong.
  constructor(name, told) {
    Object.assign(this, { name: `trackprep ${name}`, told, working: true });
  }

  read() {
    try {
      const found = JSON.parse(localStorage.getItem(this.name) ?? "{}");
      return { ...EMPTY, ...keptAsExpected(found) };
    } catch {
      this.fails();
      return { ...EMPTY };
    }
  }

  write(kept) {
    try {
      localStorage.setItem(this.name, JSON.stringify(kept));
      if (!this.working) this.told("");
      this.working = true;
    } catch (why) {
      this.fails(why?.name === "QuotaExceededError");
    }
  }

  clear() {
    try {
      localStorage.removeItem(this.name);
      return true;
    } catch {
      this.fails();
      return false;
    }
  }

  fails(full = false) {
    this.working = false;
    const why = full ? "Its space is full" : "It allows this page no space";
    this.told(
      `This browser does not keep your declaration. ${why}: save it as a file under “Save and`
      + " load” before you leave this page, and load that file the next time.",
    );
  }
}

// Of what some other version kept, what is of the right kind.
function keptAsExpected(found) {
  if (typeof found !== "object" || found === null) return {};
  const { text, former, typed, log, day, system, arrival, ticks } = found;
  const kept = {};
  if (typeof text === "string") kept.text = text;
  if (typeof former === "string") kept.former = former;
  if (Object.values(typed ?? {}).every((one) => typeof one === "string")) kept.typed = { ...typed };
  if (typeof log === "string") kept.log = log;
  if (Number.isInteger(day)) kept.day = day;
  if (["metric", "imperial"].includes(system)) kept.system = system;
  if (["ridden", "carried"].includes(arrival)) kept.arrival = arrival;
  if (Array.isArray(ticks)) kept.ticks = ticks.filter((one) => typeof one === "string");
  return kept;
}

// Offers a text as a file to save.
function saveFile(name, text) {
  const url = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  const link = element("a", { href: url, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}
