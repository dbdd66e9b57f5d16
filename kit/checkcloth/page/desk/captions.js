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
 * A caption for each colourway of a wall, and `of`, which words one more as it would be among them.
 * What all have is left out; what it has not is said where that is shorter; of those with the same
 * colours, which come first. The clue tells apart those with the same words.
 * @param {string[]} names
 * @param {ArrayLike<number>} counts stripes of each
 * @returns {{captions: {words: string, clue: string}[], of: (name: string, count: number) => string}}
 */
export function wordingOf(names, counts) {
  const all = names.map((name, index) => partsOf(name, counts[index]));
  const parts = all.filter((one) => one !== null);
  const seen = countsOf(parts);
  const withGround = new Set(parts.map(({ ground }) => ground)).size > 1;
  const words = (/** @type {Parts | null} */ one, /** @type {string} */ name) => (one
    ? coloursCaption(one, seen, parts.length, withGround) : name);
  const captions = all.map((one, index) => words(one, names[index]));
  const clues = orderClues(all, captions);
  return {
    captions: captions.map((caption, index) => {
      const clue = clues.get(index) ?? "";
      return { words: caption || (clue ? "" : names[index]), clue };
    }),
    of: (name, count) => words(partsOf(name, count), name) || name,
  };
}

/**
 * @param {string} name
 * @param {number} count
 * @returns {Parts | null}
 */
function partsOf(name, count) {
  const parsed = coloursOf(name, count);
  return parsed && { ...parsed, has: new Set(parsed.stripes) };
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
  const alike = tally(captions);
  // Only those that are alike are looked at stripe by stripe, which takes a while for thousands.
  const keys = new Map(all.flatMap((one, index) => (one && alike.get(captions[index]) !== 1
    ? [[index, one.stripes.map((_, at) => [captions[index], ...one.stripes.slice(0, at + 1)].join("\n"))]] : [])));
  const seen = tally([...keys.values()].flat());
  const clues = new Map();
  for (const [index, mine] of keys) {
    const most = mine.findIndex((key) => seen.get(key) === 1);
    if (most >= 0) clues.set(index, `${all[index]?.stripes.slice(0, most + 1).join(", ")} first`);
  }
  return clues;
}

/** How often each comes. @param {string[]} texts */
function tally(texts) {
  /** @type {Map<string, number>} */
  const seen = new Map();
  for (const text of texts) seen.set(text, (seen.get(text) ?? 0) + 1);
  return seen;
}
