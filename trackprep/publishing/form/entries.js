// The entries of a declaration's text, and its head; as trackprep/syntax/driver.py and rider.py
// read them.

const MOST_MISTAKES = 100;

// What can be read of a text, `clauses` {kind, start, end, line, …}, with one that is "unread"
// for each of the `mistakes` {line, message}.
class RiderText {
  constructor(text) {
    Object.assign(this, { text, clauses: [], mistakes: [] }, tokensOf(text));
    let at = 0;
    while (at < this.tokens.length && this.mistakes.length < MOST_MISTAKES) at = this.readFrom(at);
  }

  get entries() {
    return this.clauses.filter(({ kind }) => kind === "given");
  }

  // The value as it is spelled; comments may stand in a list.
  spelling({ values }) {
    return values.length ? this.text.slice(values[0].start, values.at(-1).end) : "none";
  }

  word(at) {
    const token = this.tokens[at];
    return token?.kind === "word" ? token.text.toLowerCase() : "";
  }

  isName(at) {
    return this.word(at) !== "" && !RESERVED_WORDS.has(this.word(at));
  }

  // Reads on until what does not fit; returns where to go on.
  readFrom(begin) {
    const { tokens, clauses } = this;
    const whole = [];
    let [at, next] = [begin, begin];
    while (at < tokens.length) {
      const clause = this.clauseAt(at);
      next = clause.next;
      if (!clause.kind) break;
      const { start, line } = tokens[at];
      whole.push({ start, line, end: tokens[next - 1].end, ...clause });
      at = next;
    }
    const done = at === tokens.length;
    // The rest of its line belongs to the last clause.
    if (!done && next === at && !tokens[at].first) whole.pop();
    for (const clause of whole) clauses.push(clause);
    return done ? at : this.recover(begin, next, whole.at(-1)?.end ?? 0);
  }

  // What begins at a token, and what is `next`; that does not fit where there is no `kind`.
  clauseAt(at) {
    const { tokens } = this;
    const word = this.word(at);
    let next = at + 1;
    if (word === "declaration") {
      while (tokens[next]?.kind === "string") next += 1;
      const value = tokens.slice(at + 1, next).map((token) => token.value).join(" ");
      return next > at + 1 ? { kind: "title", value, next } : { next };
    }
    if (word === "declared" && this.word(next) === "on") {
      const day = tokens[at + 2];
      return day?.kind === "day" ? { kind: "day", day, next: at + 3 } : { next: at + 2 };
    }
    if (tokens[at].kind !== "path" && word !== "it" && !this.isName(at)) return { next: at };
    if (this.word(next) !== "is") return { next };
    const values = [];
    const given = { kind: "given", path: tokens[at].text.toLowerCase(), values };
    if (this.word(next + 1) === "none") return { ...given, next: next + 2 };
    do {
      next += 1;
      const sign = tokens[next]?.kind === "minus" ? tokens[next] : null;
      if (sign) next += 1;
      const value = this.valueAt(next, sign);
      if (!value) return { next };
      values.push(value);
      next += 1;
    } while (tokens[next]?.kind === "comma");
    return { ...given, next };
  }

  valueAt(at, sign) {
    const { kind, value, start, end, line } = this.tokens[at] ?? {};
    if (sign) {
      const counts = kind === "number" || kind === "quantity";
      return counts ? { kind, text: `-${value}`, start: sign.start, end, line: sign.line } : null;
    }
    const flag = ["yes", "no"].includes(this.word(at));
    const fits = ["number", "quantity", "string", "day"].includes(kind) || flag || this.isName(at);
    return fits ? { kind, text: flag ? this.word(at) : value, start, end, line } : null;
  }

  // Notes the mistake of the entry that stopped at a token; returns where to go on.
  recover(begin, reached, wholeUntil) {
    const { tokens, clauses } = this;
    const last = tokens.length - 1;
    let head = begin;
    while (head < Math.min(reached, last) && tokens[head].start < wholeUntil) head += 1;
    if (clauses.length && !tokens[head].first) {
      // `helmet.shell is Full Face`: no entry starts at `Face`.
      reached = Math.min(reached, head);
      const { start } = clauses.pop();
      while (tokens[head].start > start) head -= 1;
    }
    // `PATH is` without a value took the next line's path for one.
    if (head < reached - 1 && this.mayStart(reached - 1)) reached -= 1;
    let onward = Math.max(reached, head + 1);
    while (onward <= last && !this.mayStart(onward)) onward += 1;
    const bad = tokens.slice(head, onward).find(({ kind }) => kind === "bad");
    const told = bad && bad.start <= tokens[Math.min(reached, last)].start;
    const [{ line }, message] = told ? [bad, bad.message] : this.mistake(head, reached);
    this.mistakes.push({ line, message });
    clauses.push({ kind: "unread", start: tokens[head].start });
    return onward;
  }

  // Whether a line starts here from which reading may go on.
  mayStart(at) {
    const { kind, text, first } = this.tokens[at];
    if (!first || !(kind === "word" || kind === "path")) return false;
    return /^declar(ation|ed)$/i.test(text) || this.word(at + 1) === "is";
  }

  // The token at which a mistake is told, and how.
  mistake(head, reached) {
    const { tokens } = this;
    const [before, token] = [tokens[reached - 1], tokens[reached]];
    const word = this.word(reached);
    const statement = STATEMENT_WORDS.has(word);
    const open = before?.kind === "comma";
    const comma = "A comma ends this list: take it out, or write another member behind it.";
    if (open && (!token || statement || token.text === ")")) return [before, comma];
    if ((open || ["is", "row"].includes(this.word(reached - 1))) && RESERVED_WORDS.has(word)
        && word !== "is" && word !== "of" && !(token.first && statement)) {
      return [token, `\`${word}\` is a word of the language: as a choice, write \`"${word}"\`.`];
    }
    const loose = !token || token.first;
    if (!loose && this.isName(reached - 1) && (token.kind === "number" || this.isName(reached))) {
      const words = this.text.slice(before.start, token.end);
      return [before, `${shortly(words)} is more than one word: write them in quotes.`];
    }
    const form = {
      declaration: '`declaration "Who, and which machine"`', declared: "`declared on 2026-06-10`",
    }[this.word(head)] ?? "`PATH is VALUE`, such as `tyre.front.tread is 3.5 mm`";
    return loose && reached > head
      ? [tokens[head], open ? comma : `This is not whole: write ${form}.`]
      : [token, `${shortly(token.text)} does not belong here: write ${form}.`];
  }
}
