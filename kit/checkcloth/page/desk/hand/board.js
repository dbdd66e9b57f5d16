// What the cloth lies on: the page, or a board of white, grey or black. Kept by this browser.

import { store, stored } from "../../shared/stored.js";
import { Radios } from "./radios.js";

/** @type {[key: string, text: string][]} */
const BOARDS = [["page", "Page"], ["white", "White"], ["grey", "Grey"], ["black", "Black"]];
const STORED = "checkcloth: board";

/** The choice of board; it is set on the desk, whose style sheet knows the colours. */
export class Board {
  /** @param {HTMLElement} desk root of the desk */
  constructor(desk) {
    this.desk = desk;
    const kept = stored(STORED);
    const value = BOARDS.some(([key]) => key === kept) ? kept : "page";
    this.radios = new Radios("Board behind the cloth", BOARDS, value, (key) => this.#set(key), "cc-board");
    this.root = this.radios.root;
    desk.dataset.board = value;
  }

  next() {
    this.radios.step(1);
  }

  /** @param {string} key */
  #set(key) {
    this.desk.dataset.board = key;
    store(STORED, key);
  }
}
