// The words under the cloth of a wall: what tells each colourway apart from the others. No DOM here.

/**
 * @typedef {{stripes: string[], ground: string}} Parsed
 * @typedef {Parsed & {has: Set<string>}} Parts
 */

/**
 * Colours of a colourway without a name of its own, whose name lists them: "A, B on C".
 * @param {string} name
 * @param {number} count stripes that it has; a name that lists another number is a name of its own
 * @returns {Parsed | null}
 */
export function coloursOf(name, count) {
  const at = name.lastIndexOf(" on ");
  if (at < 0) return null;
  const stripes = name.slice(0, at).split(", ");
  return stripes.length === count ? { stripes, ground: name.slice(at + 4) } : null;
}

/**
 * A caption for each colourway of a wall. What all have is left out; what it has not is said
 * where that is shorter; of those with the same colours, which come first.
 * @param {string[]} names
 * @param {ArrayLike<number>} counts stripes of each
 * @returns {{words: string, clue: string}[]} the clue tells apart those with the same words
 */
export function captionsOf(names, counts) {
  const all = names.map((name, index) => {
    const parsed = coloursOf(name, counts[index]);
    return parsed && { ...parsed, has: new Set(parsed.stripes) };
  });
  const parts = all.filter((one) => one !== null);
  const seen = countsOf(parts);
  const grounds = new Set(parts.map(({ ground }) => ground));
  const captions = all.map((one, index) => (one
    ? coloursCaption(one, seen, parts.length, grounds.size > 1) : names[index]));
  const clues = orderClues(all, captions);
  return captions.map((words, index) => {
    const clue = clues.get(index) ?? "";
    return { words: words || (clue ? "" : names[index]), clue };
  });
}

/**
 * How many of them have each colour.
 * @param {Parts[]} parts
 */
function countsOf(parts) {
  /** @type {Map<string, number>} */
  const seen = new Map();
  for (const { has } of parts) {
    for (const name of has) seen.set(name, (seen.get(name) ?? 0) + 1);
  }
  return seen;
}

/**
 * @param {Parts} one
 * @param {Map<string, number>} seen how many have each colour
 * @param {number} total
 * @param {boolean} withGround whether grounds differ
 */
function coloursCaption({ has, ground }, seen, total, withGround) {
  const listing = [...has].filter((name) => seen.get(name) !== total).join(", ");
  const lacking = [...seen.keys()].filter((name) => !has.has(name)).join(", ");
  const without = lacking && `without ${lacking}`;
  const words = without && (!listing || without.length < listing.length) ? without : listing;
  return [words, withGround ? `on ${ground}` : ""].filter(Boolean).join(" ");
}

/**
 * For each of those that have a caption in common, the fewest first stripes that tell it apart.
 * @param {(Parts | null)[]} all
 * @param {string[]} captions
 * @returns {Map<number, string>} by index
 */
function orderClues(all, captions) {
  /** @type {Map<string, number>} */
  const seen = new Map();
  const keys = (/** @type {number} */ index) => (all[index]?.stripes ?? []).map(
    (_, at, stripes) => [captions[index], ...stripes.slice(0, at + 1)].join("\n"));
  all.forEach((_, index) => {
    for (const key of [captions[index], ...keys(index)]) seen.set(key, (seen.get(key) ?? 0) + 1);
  });
  const clues = new Map();
  all.forEach((one, index) => {
    if (!one || seen.get(captions[index]) === 1) return;
    const most = keys(index).findIndex((key) => seen.get(key) === 1);
    if (most >= 0) clues.set(index, `${one.stripes.slice(0, most + 1).join(", ")} first`);
  });
  return clues;
}
