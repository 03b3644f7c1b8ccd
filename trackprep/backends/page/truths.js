// Kleene's three truths, true, false and null where too little is known, and the sets of them
// that a single test may have, each written as a sum of these:
const TRUE = 1, FALSE = 2, UNKNOWN = 4, EITHER = TRUE | FALSE;
const MOST_READINGS = 10000;

const sure = (holds) => (holds ? TRUE : FALSE);
const setOf = (truth) => (truth === null ? UNKNOWN : sure(truth));
const alike = (truths) => (truths === TRUE ? true : truths === FALSE ? false : null);

const COMPARE = {
  "at least": (order) => order >= 0,
  "at most": (order) => order <= 0,
  "more than": (order) => order > 0,
  "less than": (order) => order < 0,
  "equal": (order) => order === 0,
  "not equal": (order) => order !== 0,
};

function compared(one, comparison, other) {
  if (one === null || other === null) return null;
  const found = order(one, other);
  return found === null ? null : COMPARE[comparison](found);
}

const bothEnds = (low, high) => (low === null || high === null ? null : low && high);
const truthsIn = (set) => [[TRUE, true], [FALSE, false], [UNKNOWN, null]]
  .filter(([one]) => set & one).map(([, truth]) => truth);

function* product(lists, before = []) {
  if (before.length === lists.length) {
    yield before;
    return;
  }
  for (const one of lists[before.length]) yield* product(lists, [...before, one]);
}

const readingsOf = (lists) => lists.reduce((count, list) => count * list.length, 1);

function eachDay({ first, last }) {
  return Array.from({ length: last - first + 1 }, (_, n) => first + n);
}

function distinct(numbers) {
  return [...new Map(numbers.map((number) => [keyOf(number), number])).values()];
}
