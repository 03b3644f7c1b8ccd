// Edits of a declaration's text, which leave all else as it was written; as
// trackprep/rider/asking_text.py makes them.

const LONGEST_TITLE = 1000;  // characters

const NOT_KNOWN = /(?<![^\n])[ \t]*#[ \t]*not known:[ \t]*([a-z0-9.-]+)[ \t]*\r?(?:\n|$)/gi;
const MORE_ON_LINE =
  /^[ \t]*[^\t-\r\x1c- \x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000#]/;

// The comments `# not known: PATH`.
const notesIn = (text) => [...text.matchAll(NOT_KNOWN)]
  .map(({ 0: { length }, 1: path, index }) => ({ path: path.toLowerCase(), index, length }));
const lineEndOf = (text) => (text.includes("\r\n") ? "\r\n" : "\n");
const replacedPart = (text, start, end, by) => text.slice(0, start) + by + text.slice(end);

// The facts that a text says are not known.
function notKnown(text) {
  return [...new Set(notesIn(text).map(({ path }) => path))];
}

// The text with `PATH is WRITTEN`: in place of what it declared, else of the line `#PATH is` of a
// blank declaration, else of the comment that it is not known, else behind the facts `near`.
function withAnswer(text, path, written, near) {
  const line = `${path} is ${written}`;
  const given = new RiderText(text).entries.find((entry) => entry.path === path);
  const blank = blankLine(text, path);
  const note = notesIn(text).find((one) => one.path === path);
  let edited;
  if (given) edited = withEntry(text, given, written);
  else if (blank) edited = replacedPart(text, blank.index, blank.index + blank[1].length, line);
  else if (note) {
    edited = replacedPart(text, note.index, note.index + note.length, line + lineEndOf(text));
  } else return withLine(text, line, near);
  return withoutNote(edited, path);
}

// The text with the comment that a fact is not known.
function withNote(text, path, near) {
  const line = `# not known: ${path}`;
  if (notKnown(text).includes(path)) return text;
  const { index } = blankLine(text, path) ?? {};
  return index === undefined ? withLine(text, line, near)
    : replacedPart(text, index, index, line + lineEndOf(text));
}

function withoutNote(text, path) {
  return text.replace(NOT_KNOWN, (whole, noted) => (noted.toLowerCase() === path ? "" : whole));
}

// The text without what it declares for a fact; comments stay.
function withoutAnswer(text, path) {
  const { entries, comments } = new RiderText(text);
  return entries.filter((entry) => entry.path === path).reverse().reduce((left, { start, end }) => {
    const inside = comments.filter((comment) => comment.start > start && comment.start < end);
    return withoutPart(left, start, end, inside.map((comment) => comment.text));
  }, text);
}

// The text with another title; without one where it is empty.
function withTitle(text, title) {
  const one = title.replace(/[\s\x1c-\x1f\x85]+/g, " ").slice(0, LONGEST_TITLE);
  const quoted = one.replace(/[\\"]/g, "\\$&");
  return withHead(text, "title", one.trim() && `declaration "${quoted}"`);
}

// The text with another day on which it was declared; without one for null.
function withDeclaredOn(text, day) {
  return withHead(text, "day", day === null ? "" : `declared on ${isoDay(day)}`);
}

// A new title stands at the top, a new day below the title.
function withHead(text, kind, line) {
  const { clauses } = new RiderText(text);
  const head = (its) => clauses.find((clause) => clause.kind === its);
  const [own, title, newLine] = [head(kind), head("title"), lineEndOf(text)];
  if (own) {
    return line ? replacedPart(text, own.start, own.end, line)
      : withoutPart(text, own.start, own.end, []);
  }
  if (!line) return text;
  if (title) return replacedPart(text, title.end, title.end, newLine + line);
  const top = text.startsWith("\ufeff") ? 1 : 0;
  const gap = /^(\r?\n|[ \t]*declared\b|$)/i.test(text.slice(top)) ? "" : newLine;
  return replacedPart(text, top, top, line + newLine + gap);
}

// The text without a part of it, and without its line where nothing else stands there.
function withoutPart(text, start, end, comments) {
  const before = text.slice(text.lastIndexOf("\n", start) + 1, start);
  const after = text.slice(end);
  const kept = comments.map((comment) => comment + lineEndOf(text)).join("");
  const [rest] = /^[ \t]*(\r?\n|$)?/.exec(after);
  const alone = /\n$/.test(rest) || rest === after;
  if (!before.trim()) {
    const from = alone ? start - before.length : start;
    return replacedPart(text, from, end + rest.length, kept);
  }
  const gap = alone ? /^[ \t]*/.exec(rest)[0] : rest;
  return replacedPart(text, start, end + gap.length, kept);
}

// The line of a blank declaration that asks for the fact, still without an answer.
function blankLine(text, path) {
  const form = `([ \\t]*#[ \\t]*${path.replaceAll(".", "\\.")}[ \\t]+is)[ \\t]*\\r?`;
  return new RegExp(`(?<![^\\n])${form}(?![^\\n])`, "i").exec(text);
}

function withEntry(text, { start, end, path }, written) {
  const rest = text.slice(end);
  // A comment must not swallow what follows.
  const apart = written.includes("#") && MORE_ON_LINE.test(rest);
  return `${text.slice(0, start + path.length)} is ${written}`
    + (apart ? lineEndOf(text) + rest.replace(/^[ \t]+/, "") : rest);
}

// The text with a line of its own more.
function withLine(text, line, near) {
  const newLine = lineEndOf(text);
  const places = [...new RiderText(text).entries, ...notesIn(text)];
  const last = places.filter(({ path }) => near.has(path))
    .reduce((most, { end, index }) => Math.max(most, end ?? index), -1);
  const at = last < 0 ? 0 : text.indexOf("\n", last) + 1;
  if (at) return replacedPart(text, at, at, line + newLine);
  const body = !text || text.endsWith("\n") ? text : text + newLine;
  const tight = !body || last >= 0 || /(\n|\r\n\r)\n$/.test(body);
  return body + (tight ? "" : newLine) + line + newLine;
}
