// The same cloth as other eyes see it.

import { longerWay, pixelsForRepeat, toneBytes } from "../../shared/cloth.js";
import { make } from "../../shared/dom.js";
import { Swatch } from "../../shared/swatch.js";
import { VISIONS } from "../../shared/vision.js";

/** @import { Laid } from "../../shared/cloth.js" */
/** @import { Details } from "../types.js" */

/** A whole repeat, as each colour vision but the normal one sees it. */
export class VisionViews {
  /** @param {number} side CSS pixels */
  constructor(side) {
    this.side = side;
    this.swatches = VISIONS.slice(1).map((vision) => new Swatch(side, side, vision));
    this.root = make("div", { class: "cc-views" }, ...this.swatches.map(({ canvas }, i) =>
      make("figure", {}, canvas, make("figcaption", { text: VISIONS[i + 1] }))));
  }

  /** @param {Details} data */
  label(data) {
    this.swatches.forEach(({ canvas }, i) => canvas.setAttribute("aria-label",
      `${data.title} ${data.view_words[VISIONS[i + 1]]}`));
  }

  /**
   * @param {Uint8Array} bytes the tones of all VISIONS in turn
   * @param {number} stripes
   * @param {Laid} laid
   * @param {number} wefts stripes of the weft's own, or 0
   */
  draw(bytes, stripes, laid, wefts) {
    this.swatches.forEach((swatch, i) => {
      swatch.resize(this.side, this.side);
      swatch.draw(bytes, (i + 1) * toneBytes(stripes, wefts || stripes), stripes, laid,
        pixelsForRepeat(longerWay(laid), swatch.canvas.width), wefts);
    });
  }
}
