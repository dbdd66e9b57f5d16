// Colours of palettes, as the kernel told them.

/** @import { Desk } from "../types.js" */

/** @typedef {{index: number, name: string, hex: string, role: string}} PaletteColour */

export class Palettes {
  /** @type {Map<string, PaletteColour[]>} */
  #colours = new Map();
  /** @type {Set<string>} */
  #asked = new Set();

  /**
   * @param {Desk} desk
   * @param {() => void} oncome colours that were asked for have come
   */
  constructor(desk, oncome) {
    this.desk = desk;
    this.oncome = oncome;
  }

  /**
   * The colours of a palette; none until they have come.
   * @param {string} palette
   */
  of(palette) {
    if (palette && !this.#asked.has(palette)) this.#ask(palette);
    return this.#colours.get(palette) ?? [];
  }

  /** Palettes may have been edited: ask again for those that are wanted from now on. */
  refresh() {
    this.#asked.clear();
  }

  /** @param {string} palette */
  async #ask(palette) {
    this.#asked.add(palette);
    try {
      const answer = await this.desk.request("palette", { palette });
      const colours = /** @type {[string, string, string][]} */ (answer?.colours ?? []);
      this.#colours.set(palette, colours.map(([name, hex, role], index) => ({ index, name, hex, role })));
      this.oncome();
    } catch {
      // a palette that is gone has no swatches; it is asked for again when the tray is opened
    }
  }
}
