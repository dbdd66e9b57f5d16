// The line to the kernel: every request has an answer, or the page says that none came.

const PATIENCE = 4000;
let links = 0;

class Link {
  /** `onquiet(true)` when the kernel has not answered for a while, `onquiet(false)` when it has. */
  constructor(model, onquiet) {
    this.model = model;
    this.onquiet = onquiet;
    this.view = `${Date.now().toString(36)}-${(links += 1)}`;
    this.next = 1;
    this.waiting = new Map();
    this.quiet = false;
    this.hear = (message, buffers) => this.answer(message, buffers);
    model.on("msg:custom", this.hear);
  }

  /** Ask the kernel; resolves with {…, buffers}, rejects with the kernel's own words. */
  ask(what, fields = {}) {
    const id = `${this.view}/${(this.next += 1)}`;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => this.setQuiet(true), PATIENCE);
      this.waiting.set(id, { resolve, reject, timer });
      try {
        this.model.send({ ...fields, do: what, id });
      } catch {
        this.setQuiet(true); // a kernel known to be dead refuses at once
      }
    });
  }

  answer(message, buffers) {
    const one = this.waiting.get(message?.id);
    if (!one) return;
    clearTimeout(one.timer);
    this.waiting.delete(message.id);
    this.setQuiet(false);
    if (message.error) one.reject(new Error(message.error));
    else one.resolve({ ...message, buffers });
  }

  /** The kernel should be doing something: find out, unless an answer is due anyway. */
  expect() {
    clearTimeout(this.doubt);
    this.doubt = setTimeout(() => {
      if (!this.waiting.size) this.ask("ping").catch(() => {});
    }, 1200);
  }

  /** The kernel did do something. */
  heard() {
    clearTimeout(this.doubt);
    this.setQuiet(false);
  }

  get unanswered() {
    return this.waiting.size;
  }

  setQuiet(quiet) {
    if (quiet !== this.quiet) {
      this.quiet = quiet;
      this.onquiet(quiet);
    }
    clearTimeout(this.again);
    if (quiet) this.again = setTimeout(() => this.retry(), 5000);
  }

  /** While it is quiet ask now and then, one question at a time. */
  retry() {
    const asked = [...this.waiting.values()].some((one) => one.ping);
    if (!asked) this.ask("ping").catch(() => {});
    const last = [...this.waiting.values()].pop();
    if (last) last.ping = true;
    this.again = setTimeout(() => this.retry(), 5000);
  }

  close() {
    this.model.off("msg:custom", this.hear);
    clearTimeout(this.doubt);
    clearTimeout(this.again);
    for (const one of this.waiting.values()) clearTimeout(one.timer);
    this.waiting.clear();
  }
}
