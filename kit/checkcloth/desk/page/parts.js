// Small parts that every view uses. Text goes in as text, never as HTML.

/** Make an element: props named on… listen, text is text, the rest are attributes. */
function make(tag, props = {}, ...kids) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (value === null || value === undefined || value === false) continue;
    if (key === "text") node.textContent = value;
    else if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key === "value") node.value = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...kids.filter((kid) => kid !== null && kid !== undefined));
  return node;
}

/** A button that says what it does, and how to do it from the keyboard. */
function button(text, onclick, { keys = "", label = "", pressed = null, kind = "" } = {}) {
  return make("button", {
    type: "button",
    class: `cc-button ${kind}`,
    text,
    title: keys ? `${label || text} (${keys})` : label || null,
    "aria-label": label || null,
    "aria-keyshortcuts": keys || null,
    "aria-pressed": pressed === null ? null : String(pressed),
    onclick,
  });
}

/** A labelled choice; options are [value, text] pairs, or [group, [[value, text], …]]. */
function choice(label, options, value, onpick) {
  const add = (parent, [key, text]) => {
    if (Array.isArray(text)) {
      const group = make("optgroup", { label: key });
      text.forEach((pair) => add(group, pair));
      parent.append(group);
    } else parent.append(make("option", { value: key, text }));
  };
  const select = make("select", { class: "cc-select", "aria-label": label, onchange: () => onpick(select.value) });
  options.forEach((pair) => add(select, pair));
  select.value = value;
  const box = make("label", { class: "cc-field" }, make("span", { text: label }), select);
  box.select = select;
  return box;
}

/** Put other buttons in the place of those in a box; the focus stays at its place among them. */
function refill(box, nodes, fallback = null) {
  const held = [...box.children].findIndex((node) => node.contains(document.activeElement));
  box.replaceChildren(...nodes);
  if (held < 0) return;
  const next = nodes[Math.min(held, nodes.length - 1)];
  const target = next?.matches("button") ? next : next?.querySelector("button") ?? fallback;
  target?.focus({ preventScroll: true });
}

/** Set text only where it differs: a screen reader then hears changes and nothing else. */
function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/** Round halves to the even number, as the kernel's arithmetic does. */
function roundEven(number) {
  const near = Math.round(number);
  return Math.abs(number % 1) === 0.5 && near % 2 !== 0 ? near - 1 : near;
}

/** The bytes of a binary trait or buffer, whatever view it comes as. */
function bytesOf(value) {
  if (!value) return new Uint8Array(0);
  if (value instanceof Uint8Array) return value;
  if (value.buffer) return new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
  return new Uint8Array(value);
}

/** Calls `act` at most once a frame, with the newest wish. */
function perFrame(act) {
  let asked = 0;
  const wish = () => {
    if (!asked) asked = requestAnimationFrame(() => { asked = 0; act(); });
  };
  wish.stop = () => cancelAnimationFrame(asked);
  return wish;
}
