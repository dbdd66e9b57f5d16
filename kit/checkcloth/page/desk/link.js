// The line to the kernel: every request has an answer, or the page says that none came.

/** @import { Model } from "./types.js" */

const PATIENCE = 4000; // milliseconds without an answer after which the kernel is called quiet
const AGAIN = 5000; // between questions to a quiet kernel
const DOUBT = 1200; // after a change that the kernel should have followed by itself
let links = 0;

/**
 * @typedef {object} Request
 * @property {(answer: any) => void} resolve
 * @property {(error: Error) => void} reject
 * @property {ReturnType<typeof setTimeout>} timer
 */

/**
 * What the kernel said of a request that it refused: words, names that may have been meant, and of
 * which field.
 * @param {unknown} error
 * @returns {{words: string, near: string[], field: string}}
 */
export function refusalOf(error) {
  if (!(error instanceof Error)) return { words: String(error), near: [], field: "" };
  const near = "near" in error && Array.isArray(error.near) ? error.near : [];
  return { words: error.message, near, field: "field" in error ? String(error.field) : "" };
}

export class Link {
  quiet = false;
  #next = 0;
  /** @type {Map<string, Request>} */
  #waiting = new Map();
  /** @type {Set<string>} */
  #pings = new Set();
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #doubt;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #again;

  /**
   * @param {Model} model
   * @param {(quiet: boolean) => void} onquiet whether the kernel has not answered for a while
   */
  constructor(model, onquiet) {
    this.model = model;
    this.onquiet = onquiet;
    this.view = `${Date.now().toString(36)}-${(links += 1)}`;
    model.on("msg:custom", this.#answer);
  }

  /**
   * Ask the kernel; resolves with {…, buffers}, rejects with the kernel's own words.
   * @param {string} what
   * @param {object} [fields]
   * @param {ArrayBuffer[]} [files] bytes that go with it
   * @returns {Promise<any>}
   */
  ask(what, fields = {}, files = undefined) {
    const id = `${this.view}/${(this.#next += 1)}`;
    if (what === "ping") this.#pings.add(id);
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => this.#setQuiet(true), PATIENCE);
      this.#waiting.set(id, { resolve, reject, timer });
      try {
        this.model.send({ ...fields, do: what, id }, undefined, files);
      } catch {
        this.#setQuiet(true); // a kernel known to be dead refuses at once
      }
    });
  }

  /**
   * @param {{id?: string, error?: string, near?: string[], field?: string} | null} message
   * @param {ArrayBufferView[]} [buffers]
   */
  #answer = (message, buffers) => {
    const id = message?.id ?? "";
    const request = this.#waiting.get(id);
    if (!request) return; // another view's
    clearTimeout(request.timer);
    this.#waiting.delete(id);
    this.#pings.delete(id);
    this.#setQuiet(false);
    if (message?.error) {
      const { error, near = [], field = "" } = message;
      request.reject(Object.assign(new Error(error), { near, field }));
    } else request.resolve({ ...message, buffers });
  };

  /** The kernel should be doing something: find out, unless an answer is due anyway. */
  expect() {
    clearTimeout(this.#doubt);
    this.#doubt = setTimeout(() => {
      if (!this.#waiting.size) this.#ping();
    }, DOUBT);
  }

  /** The kernel did do something. */
  heard() {
    clearTimeout(this.#doubt);
    this.#setQuiet(false);
  }

  /** @param {boolean} quiet */
  #setQuiet(quiet) {
    if (quiet !== this.quiet) {
      this.quiet = quiet;
      this.onquiet(quiet);
    }
    clearTimeout(this.#again);
    if (quiet) this.#again = setTimeout(() => this.#retry(), AGAIN);
  }

  #ping() {
    this.ask("ping").catch(() => {});
  }

  /** While it is quiet ask now and then, one question at a time. */
  #retry() {
    if (!this.#pings.size) this.#ping();
    clearTimeout(this.#again);
    this.#again = setTimeout(() => this.#retry(), AGAIN);
  }

  close() {
    this.model.off("msg:custom", this.#answer);
    clearTimeout(this.#doubt);
    clearTimeout(this.#again);
    for (const { timer } of this.#waiting.values()) clearTimeout(timer);
    this.#waiting.clear();
  }
}
