// What each key does, and the list of them.

const KEYS = [
  ["Arrow keys, Home, End, Page Up, Page Down", "move along the wall"],
  ["K or Space", "keep, or drop what is kept"], ["Enter", "enlarge"], ["Escape", "back to the wall"],
  ["N", "name it"], ["T", "write a note to it"], ["C", "lay it beside others"],
  ["M", "more like this"], ["D", "something different"],
  ["U or Ctrl+Z", "undo"], ["R or Ctrl+Shift+Z", "redo"],
  ["Shift + ← →", "on a kept colourway: move it; enlarged: move the cloth"],
  ["Delete", "on a kept colourway: drop it"], ["?", "this list"],
];

function listOfKeys() {
  return make("dl", { class: "cc-keys" },
    ...KEYS.flatMap(([keys, words]) => [make("dt", { text: keys }), make("dd", { text: words })]));
}

/** Answer a key anywhere on the desk; text fields keep theirs. */
function answerKey(desk, event) {
  const inField = event.target.closest("input, select, textarea");
  const undoing = (event.ctrlKey || event.metaKey) && !event.altKey && !inField;
  const letter = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (undoing && (letter === "z" || letter === "y")) {
    event.preventDefault();
    desk.act(letter === "y" || event.shiftKey ? "redo" : "undo");
    return;
  }
  if (inField || event.ctrlKey || event.metaKey || event.altKey || desk.aside.open) return;
  const onButton = event.target.closest("button, summary");
  const { number } = desk;
  const acts = {
    k: () => desk.act("toggle", number),
    " ": onButton ? null : () => desk.act("toggle", number),
    Enter: onButton || desk.enlarged.open ? null : () => desk.enlarge(),
    n: () => desk.typeInto("name"), t: () => desk.typeInto("note"),
    c: () => desk.act("compare", number), m: () => desk.act("more", number),
    d: () => desk.act("different"), u: () => desk.act("undo"), r: () => desk.act("redo"),
    "?": () => desk.showKeys(),
  };
  if (!acts[letter]) return;
  event.preventDefault();
  event.stopPropagation();
  acts[letter]();
}
