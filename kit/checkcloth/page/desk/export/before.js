// What to know before an export: each thing with its remedy as a button; an earlier export that is there.

import { button, make, say, setAttribute } from "../../shared/dom.js";
import { counted } from "../../shared/words.js";
import { keepFocus } from "../keep_focus.js";
import { Changes } from "./changes.js";
import { Field } from "./field.js";

/** @import { Desk } from "../types.js" */

/** @typedef {[words: string, remedy: string, field: string, value: any, blocks: boolean]} Warning */

/**
 * @typedef {object} Earlier what lies in the folder
 * @property {string[]} goes files that would be no more
 * @property {string[]} again files that would be written anew
 * @property {string[]} kept files of other check sizes that stay
 * @property {string} beside a free folder beside it
 */

let lists = 0;

export class Before {
  #key = "";

  /**
   * @param {Desk} desk
   * @param {(field: string) => void} mend what is done on another part of the desk, or in another field
   */
  constructor(desk, mend) {
    this.desk = desk;
    this.mend = mend;
    this.changes = new Changes(desk, () => this.#show(), () => this.fill());
    const name = `cc-place-${(lists += 1)}`;
    const radio = (/** @type {boolean} */ replace) => make("input", { type: "radio", name, "data-part": `replace ${replace}`,
      onchange: () => this.changes.send({ replace }) });
    this.beside = radio(false);
    this.replace = radio(true);
    this.besideWords = make("span");
    this.replaceWords = make("span");
    this.files = make("ul", { class: "cc-goes" });
    this.see = make("details", { class: "cc-fold" }, make("summary"), this.files);
    this.keepSizes = new Field(desk, "keep_other_sizes");
    this.earlier = make("li", { hidden: true }, make("div", { class: "cc-earlier", role: "group", "aria-label": "An earlier export is there" },
      make("strong", { text: "An earlier export is there" }), make("p", { class: "cc-quiet cc-earlier-words" }),
      make("label", { class: "cc-check" }, this.beside, this.besideWords),
      make("label", { class: "cc-check" }, this.replace, this.replaceWords), this.keepSizes.root, this.see));
    this.list = make("ul", { class: "cc-before" }, this.earlier);
    this.none = make("p", { class: "cc-quiet", text: "Nothing stands in the way." });
    this.root = make("div", {}, this.none, this.list);
  }

  #show() {
    const held = this.desk.model.get("export");
    this.replace.checked = Boolean(held.replace);
    this.beside.checked = !held.replace;
  }

  fill() {
    this.changes.show();
    this.keepSizes.fill({});
  }

  /**
   * @param {Warning[]} warnings
   * @param {Earlier} earlier
   * @param {string} folder that is named
   * @param {boolean} wrong whether a field is wrong, so that little is known
   */
  tell(warnings, earlier, folder, wrong) {
    const others = warnings.filter(([, , field]) => field !== "replace");
    this.none.hidden = wrong || warnings.length > 0;
    this.#tellEarlier(earlier, folder);
    const key = JSON.stringify(others);
    if (key === this.#key) return;
    this.#key = key;
    keepFocus(this.list, () => this.list.replaceChildren(...others.map((warning) => this.#warning(warning)), this.earlier));
  }

  /** @param {Warning} warning */
  #warning([words, remedy, field, value, blocks]) {
    const act = value === null || value === undefined ? () => this.mend(field)
      : () => this.changes.send({ [field]: typeof value === "boolean" ? value : String(value) });
    const can = ["colourways", "folder", "press"].includes(field) || (value !== null && value !== undefined);
    const node = button(remedy, act, { kind: "cc-plain" });
    node.dataset.part = remedy;
    return make("li", { class: blocks ? "cc-blocks" : "" }, make("p", { text: words }),
      can ? node : make("p", { class: "cc-quiet", text: remedy }));
  }

  /**
   * @param {Earlier} earlier
   * @param {string} folder
   */
  #tellEarlier({ goes, again, kept, beside }, folder) {
    this.earlier.hidden = !beside;
    if (!beside) return;
    const line = this.earlier.querySelector(".cc-earlier-words");
    if (line) say(line, `In ${folder}: ${counted(goes.length + again.length + kept.length, "file")}.`);
    say(this.besideWords, `Beside it, in ${beside}`);
    say(this.replaceWords, goes.length ? `In its place: ${counted(goes.length, "file")} ${goes.length === 1 ? "goes" : "go"}`
      : "In its place: none is lost, all are written anew");
    this.keepSizes.root.hidden = !kept.length && this.desk.model.get("export").keep_other_sizes === true;
    this.see.hidden = !goes.length;
    const summary = this.see.querySelector("summary");
    if (summary) say(summary, `See which ${goes.length === 1 ? "one goes" : `${goes.length} go`}`);
    this.files.replaceChildren(...goes.map((file) => make("li", { text: file })));
    setAttribute(this.files, "aria-label", "Files of the earlier export that go");
  }
}
