// The kept in families, in the order they come; those in none come last. No DOM here.

/** @import { KeptCard } from "./types.js" */

export const BY_ITSELF = "By itself";

/**
 * @param {KeptCard[]} kept
 * @param {string[]} known families, those without a colourway too
 * @returns {{family: string, cards: {card: KeptCard, index: number}[]}[]}
 */
export function familiesOf(kept, known = []) {
  /** @type {Map<string, {card: KeptCard, index: number}[]>} */
  const groups = new Map(known.map((family) => [family, []]));
  kept.forEach((card, index) => {
    const family = card.family ?? "";
    groups.set(family, [...(groups.get(family) ?? []), { card, index }]);
  });
  const alone = groups.get("") ?? [];
  groups.delete("");
  const named = [...groups].map(([family, cards]) => ({ family, cards }));
  return alone.length || !named.length ? [...named, { family: "", cards: alone }] : named;
}

/**
 * A name that no family has yet.
 * @param {string[]} known
 */
export function newFamily(known) {
  const taken = new Set(known);
  let number = known.length + 1;
  while (taken.has(`Family ${number}`)) number += 1;
  return `Family ${number}`;
}
