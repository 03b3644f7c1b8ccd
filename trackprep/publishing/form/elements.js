// Elements made from data; every text goes in as text, never as markup.

// An element with attributes (an undefined, null or false one is left out) and what stands in it.
function element(tag, attributes = {}, ...inner) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...inner.flat().filter((one) => one !== null && one !== undefined && one !== ""));
  return made;
}

// Puts elements in place of all that stands in another.
function fill(place, ...inner) {
  place.replaceChildren(...inner.flat().filter((one) => one !== null && one !== undefined));
}

// `1 thing`, `2 things`.
function counted(number, one, many = `${one}s`) {
  return `${number} ${number === 1 ? one : many}`;
}

// `a`, `a and b`, `a, b and c`.
function listed(texts, word = "and") {
  if (texts.length < 2) return texts.join("");
  return `${texts.slice(0, -1).join(", ")} ${word} ${texts.at(-1)}`;
}

function capitalized(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

// `Label: text`, as a paragraph.
function labelled(label, text, tone) {
  return element("p", {}, element("strong", tone ? { class: tone } : {}, `${label}:`), ` ${text}`);
}

// A caution as a paragraph in a frame.
function cautionLine(text, id = null) {
  const mark = element("strong", { class: "warning" }, "Caution:");
  return element("p", { class: "caution", id }, mark, ` ${text}`);
}

// Labels with what stands for each; nothing for those that have none.
function pairs(rows) {
  const told = rows.filter(([, text]) => text);
  if (!told.length) return null;
  return element("dl", {}, ...told.flatMap(([label, text]) =>
    [element("dt", {}, label), element("dd", {}, text)]));
}

// Rows become blocks on a phone, which are cells to a screen reader only by their roles.
function table(head, rows) {
  const row = (cells) => element("tr", { role: "row" }, ...cells);
  const heads = head.map((text) => element("th", { role: "columnheader", scope: "col" }, text));
  const body = rows.map((cells) => row(cells.map((text, at) => (at
    ? element("td", { "role": "cell", "data-head": head[at] }, text)
    : element("th", { role: "rowheader", scope: "row" }, text)))));
  return element(
    "table", { role: "table" }, element("thead", { role: "rowgroup" }, row(heads)),
    element("tbody", { role: "rowgroup" }, ...body),
  );
}
