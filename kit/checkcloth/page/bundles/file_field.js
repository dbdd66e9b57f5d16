// Made from page/ by `npm run build` in .ci/page; not to be edited.

// shared/own_keys.js
var NO_SHORTCUTS = "data-lm-suppress-shortcuts";
function isForControls(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  return !(event.shiftKey && event.key === "Enter");
}
function keepKeys(root) {
  const view = root.ownerDocument.defaultView;
  const mark = (event) => {
    const target = (
      /** @type {HTMLElement} */
      event.target
    );
    if (outermostBox(root).contains(target)) target.toggleAttribute(NO_SHORTCUTS, isForControls(event));
  };
  view?.addEventListener("keydown", mark, true);
  return () => view?.removeEventListener("keydown", mark, true);
}
function outermostBox(root) {
  let box = root;
  for (let next = box.closest(".widget-vbox"); next; next = box.parentElement?.closest(".widget-vbox") ?? null) {
    box = /** @type {HTMLElement} */
    next;
  }
  return box;
}

// shared/sent_file.js
var MOST = 5e6;
var LIMIT = 9e6;
var SIDE = 1200;
function sentHow(bytes, picture) {
  if (picture) return bytes > MOST ? "smaller" : "as it is";
  return bytes > LIMIT ? "too large" : "as it is";
}
function smallerSize(width, height) {
  const scale = Math.min(1, SIDE / Math.max(width, height));
  return [width, height].map((side) => Math.max(1, Math.round(side * scale)));
}
async function bytesToSend(file, picture) {
  const how = sentHow(file.size, picture);
  if (how === "too large") throw new Error("too large to be sent");
  const smaller = how === "smaller";
  return { bytes: await (smaller ? await redrawn(file) : file).arrayBuffer(), smaller };
}
async function redrawn(file) {
  const picture = await createImageBitmap(file);
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = smallerSize(picture.width, picture.height);
  const context = (
    /** @type {CanvasRenderingContext2D} */
    canvas.getContext("2d")
  );
  context.imageSmoothingEnabled = false;
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((done, fail) => canvas.toBlob((blob) => blob ? done(blob) : fail(new Error("no picture")), "image/png"));
}
function sizeWords(bytes) {
  return bytes < 1e5 ? `${(bytes / 1e3).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

// forms/file_field.js
function render({ model, el }) {
  el.classList.add("cc-file");
  const label = document.createElement("label");
  label.textContent = model.get("words");
  const input = document.createElement("input");
  input.type = "file";
  input.accept = model.get("kinds");
  const pictures = model.get("kinds") === "image/*";
  const said = document.createElement("p");
  said.setAttribute("role", "status");
  label.append(input);
  el.append(label, said);
  async function take(file) {
    if (!file) return;
    said.textContent = `Reading ${file.name} …`;
    try {
      const { bytes, smaller } = await bytesToSend(file, pictures);
      model.send({ name: file.name }, void 0, [bytes]);
      said.textContent = `${file.name}, ${sizeWords(file.size)}${smaller ? ", sent smaller" : ""}`;
    } catch {
      said.textContent = `${file.name} (${sizeWords(file.size)}) could not be read here: lay it beside the notebook and give its path instead.`;
    }
  }
  const claim = (event) => {
    event.preventDefault();
    event.stopPropagation();
  };
  input.addEventListener("click", () => {
    input.value = "";
  });
  input.addEventListener("change", () => take(input.files?.[0]));
  el.addEventListener("dragover", claim);
  el.addEventListener("drop", (event) => {
    claim(event);
    take(event.dataTransfer?.files[0]);
  });
  return keepKeys(el);
}
var file_field_default = { render };
export {
  file_field_default as default
};
