// What shows the page: a notebook, whose cells can be run, or a page made of one.

/**
 * Whether cells can be run there; voilà shows a notebook without its cells.
 * @param {Document} page
 */
export function hasCells(page) {
  return page.body?.dataset.voila === undefined;
}
