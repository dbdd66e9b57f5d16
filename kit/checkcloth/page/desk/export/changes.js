// Changes of the export on their way to the kernel: until it has answered, what it held before must not come back.

/** @import { Desk } from "../types.js" */

export class Changes {
  #unanswered = 0;

  /**
   * @param {Pick<Desk, "request">} desk
   * @param {() => void} show shows what the kernel holds
   * @param {(error: unknown) => void} refused says why a change was not taken
   */
  constructor(desk, show, refused) {
    this.desk = desk;
    this.showHeld = show;
    this.refused = refused;
  }

  get unanswered() {
    return this.#unanswered > 0;
  }

  /** Show what the kernel holds, unless a change is on its way to it. */
  show() {
    if (!this.#unanswered) this.showHeld();
  }

  /** @param {Record<string, unknown>} fields */
  async send(fields) {
    this.#unanswered++;
    /** @type {(() => void) | undefined} */
    let refused;
    try {
      await this.desk.request("set_export", { fields });
    } catch (error) {
      refused = () => this.refused(error);
    }
    this.#unanswered--;
    if (refused) refused();
    else this.show();
  }
}
