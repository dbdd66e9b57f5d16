// What the desk says of itself: that the kernel is quiet, what was done, what an earlier session kept.

import { button, make, say, setAttribute } from "../shared/dom.js";
import { hasCells } from "../shared/host.js";

/** @import { Desk } from "./types.js" */

const MOST_OFFERED = 5;
const ROOM = 150; // milliseconds after which a region that was moved is there for screen readers
const HEARD = 3000; // milliseconds after which what was read out is taken away: the same can be said again

export class Notices {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #heard;

  /**
   * @param {Desk} desk
   * @param {HTMLElement} root of the desk
   */
  constructor(desk, root) {
    this.desk = desk;
    this.root = root;
    this.banner = make("div", { class: "cc-banner", role: "alert", hidden: true });
    this.offer = make("div", { class: "cc-offer" });
    this.status = make("p", { class: "cc-status", role: "status", "aria-live": "polite" });
    // The line is part of the wall: where that is hidden or behind a dialog, this is read out instead.
    this.aloud = make("p", { class: "cc-unseen", "aria-live": "polite" });
    this.undo = button("Undo", () => desk.act("undo"), { kind: "cc-plain" });
    this.line = make("div", { class: "cc-last-step" }, this.status, this.undo);
  }

  fill() {
    this.#showOffer();
    this.#showMessage();
  }

  /** @param {boolean} quiet */
  showQuiet(quiet) {
    const { saved, retired } = this.desk.model.get("facts");
    if (retired) return; // it is not silent, it has been told to answer another desk
    this.root.classList.toggle("cc-quieted", quiet);
    this.banner.hidden = !quiet;
    if (!quiet) return;
    say(this.banner, "The kernel is not answering: it may be busy, stopped or restarted. "
      + `${saved ? `What you kept is safe (${saved}). ` : ""}`
      + "Changes made from now on wait for it; if it was restarted, "
      + (hasCells(this.root.ownerDocument) ? "run the notebook again." : "load this page again."));
  }

  #showMessage() {
    const { message, retired } = this.desk.model.get("facts");
    if (retired) {
      this.root.classList.add("cc-retired");
      this.root.classList.remove("cc-quieted");
      this.root.inert = true;
      this.banner.hidden = false;
      say(this.banner, "This desk was closed, because it was opened again elsewhere. "
        + "Everything on it is there.");
    }
    this.#say(message, message.startsWith("Not done"));
  }

  /**
   * Say the last step, with a way back beside it; or why there was none.
   * @param {string} message
   * @param {boolean} wrong
   * @param {boolean} [anew] read out, though it may be the same as before
   */
  #say(message, wrong, anew = this.status.textContent !== message) {
    const { undo } = this.desk.model.get("facts");
    this.status.classList.toggle("cc-wrong", wrong);
    say(this.status, message);
    setAttribute(this.status, "title", message);
    if (anew && message) this.#sayAloud(message);
    this.undo.hidden = wrong || !message || !undo;
    this.undo.title = `Undo: ${undo}`;
    setAttribute(this.undo, "aria-description", undo);
  }

  /** @param {string} message */
  #sayAloud(message) {
    const dialog = this.root.querySelector("dialog[open]");
    if (!dialog && this.status.checkVisibility()) return;
    const front = dialog ?? this.root;
    const there = this.aloud.parentElement === front;
    if (!there) {
      say(this.aloud, "");
      front.append(this.aloud); // what comes together with its region is not read out
    }
    clearTimeout(this.#heard);
    this.#heard = setTimeout(() => {
      say(this.aloud, message);
      this.#heard = setTimeout(() => say(this.aloud, ""), HEARD);
    }, there ? 0 : ROOM);
  }

  /** @param {string} text */
  complain(text) {
    this.#say(`Not done: ${text}`, true, true);
  }

  #showOffer() {
    const { offer, left_out: leftOut } = this.desk.model.get("facts");
    this.offer.hidden = !offer.length && !leftOut.length;
    this.offer.replaceChildren(
      ...leftOut.map((line) => make("p", { text: `Left out: ${line}` })),
      ...(offer.length ? [make("p", { text: "Kept in an earlier session, and left as it is:" })] : []),
      ...offer.slice(0, MOST_OFFERED).map(({ file, words, fault }) => make("div", { class: "cc-row" },
        make("span", { text: words }),
        ...(fault ? [] : [
          button("Open", () => this.desk.act("open_range", 0, { path: file }), { label: `Open ${words}`, kind: "cc-small" }),
          button("Take onto this desk", () => this.desk.act("take", 0, { file }),
            { label: `Take ${words} onto this desk`, kind: "cc-small" })]))),
      ...(offer.length ? [make("p", { class: "cc-quiet",
        text: "Opened, it goes on in its own file; taken onto this desk, in this range's." })] : []),
      button("Not now", () => this.desk.act("dismiss"), { kind: "cc-small" }));
  }
}
