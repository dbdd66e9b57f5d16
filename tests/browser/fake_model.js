// The kernel's side of a desk, played by the page itself: holds the traits, records what is sent,
// and answers a close look with what was prepared for it.

export const binary = (text) => new DataView(Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer);

export class FakeModel {
  constructor({ traits, bytes, details, palettes = {}, ranges = [] }) {
    Object.assign(this, { palettes, ranges });
    this.traits = { ...traits };
    for (const [name, text] of Object.entries(bytes)) this.traits[name] = binary(text);
    this.details = details;
    this.listeners = new Map();
    this.sent = [];
    this.foretold = { tasks: [], warnings: [], goes: [], again: [], kept: [], beside: "", faults: {},
      preflight: { words: "", rows: [] } };
    this.derived = {}; // answers to `derive` by what is asked for
    this.files = []; // bytes that came with requests
    this.saved = [];
    this.changed = new Set();
    this.answers = true;
  }

  get(name) {
    if (!(name in this.traits)) throw new Error(`the desk asked for a trait ${name}`);
    return this.traits[name];
  }

  set(name, value) {
    this.changed.add(name);
    this.receive({ [name]: value });
  }

  /** Changes as they come from the kernel: all of them are there before the first is told. */
  receive(traits) {
    const changed = Object.keys(traits).filter((name) => this.traits[name] !== traits[name]);
    Object.assign(this.traits, traits);
    changed.forEach((name) => this.trigger(`change:${name}`));
  }

  save_changes() {
    for (const name of this.changed) this.saved.push([name, this.traits[name]]);
    this.changed.clear();
  }

  send(content, _, buffers = []) {
    this.sent.push(content);
    if (buffers.length) this.files.push(new Uint8Array(buffers[0]));
    if (this.answers) setTimeout(() => this.answer(content), 5);
  }

  answer(content) {
    const { do: what, id, number, text } = content;
    const details = this.details[number];
    const derived = what === "derive" && this.derived[JSON.stringify(content, ["stripes", "family", "wefts", "strength", "grounds", "order"])];
    if (derived) return void this.trigger("msg:custom", { ...derived.said, id }, [binary(derived.colours)]);
    if (what === "derive") return void this.trigger("msg:custom", { id, error: "the same" }, []);
    const said = what === "foretell" ? this.foretold : this.#coloursOrRanges(content);
    if (said) return void this.trigger("msg:custom", { ...said, id }, []);
    if (what === "look" && !details) this.trigger("msg:custom", { id, number, gone: true }, []);
    else if (what === "look") {
      this.trigger("msg:custom", { ...details.said, id }, [binary(details.tones), binary(details.colours)]);
    } else if (what === "size" && !/^\d/.test(text)) {
      this.trigger("msg:custom", { id, error: `“${text}” is no length` }, []);
    } else this.trigger("msg:custom", { id }, []);
  }

  /** Answers about palettes and saved ranges; null for other requests. */
  #coloursOrRanges({ do: what, palette, index, field, text, name, colours, count }) {
    if (what === "palette") return { colours: this.palettes[palette] ?? [] };
    if (what === "check_sizes") return { sizes: [["1/4 in", 0.25], ["1 in", 1]] };
    if (what === "ranges") return { ranges: this.ranges };
    if (what === "read_colours" && text === undefined) { // of a file or a card: made up
      return { colours: Array.from({ length: count ?? 3 }, (_, at) => {
        const hex = `#${(0x404040 + at * 0x040507).toString(16)}`;
        return [`Colour ${at + 1}`, hex, hex, at ? "stripe" : "ground", ""];
      }), left_out: [] };
    }
    if (what === "read_colours") {
      const lines = text.split("\n").map((line, at) => [at + 1, line.trim(), line.match(/#[0-9a-f]{6}/i)?.[0]])
        .filter(([, line]) => line);
      return { colours: lines.filter(([, , hex]) => hex)
        .map(([, line, hex]) => [line.replace(hex, "").trim() || hex, hex, hex, "", ""]),
        left_out: lines.filter(([, , hex]) => !hex).map(([at, line]) => [at, line, "is no colour that is known here"]) };
    }
    if (what === "save_palette") {
      if (colours.some((row) => row.length < 2 || row.length > 4)) return { error: "rows of name, colour, and role and note if any" };
      this.palettes[name] = colours.map(([colour, hex]) => [colour, hex, "", 0]);
      const { choices } = this.traits;
      setTimeout(() => this.receive({ choices: { ...choices, palettes: Object.keys(this.palettes) } }));
      return { palette: name, words: `Palette ${name} saved.` };
    }
    if (what !== "edit_palette") return null;
    if (field === "colour" && !/^#[0-9a-f]{6}$/i.test(text)) return { error: `“${text}” is no colour that is known here` };
    const entry = this.palettes[palette][index];
    if (field === "remove") this.palettes[palette].splice(index, 1);
    else entry[{ name: 0, colour: 1, role: 2 }[field]] = text;
    return {};
  }

  trigger(event, ...values) {
    for (const act of [...(this.listeners.get(event) ?? [])]) act(...values);
  }

  on(event, act) {
    this.listeners.set(event, [...(this.listeners.get(event) ?? []), act]);
  }

  off(event, act) {
    this.listeners.set(event, (this.listeners.get(event) ?? []).filter((other) => other !== act));
  }
}
