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
