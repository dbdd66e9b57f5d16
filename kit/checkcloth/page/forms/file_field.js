// A file from the reader's own machine: chosen or dropped. The notebook's connection drops messages
// of about 10 MB without a word, so a larger picture is made smaller, and no other file is sent.

/**
 * @typedef {object} FileModel
 * @property {(key: "words" | "kinds") => string} get
 * @property {(content: object, callbacks: undefined, buffers: ArrayBuffer[]) => void} send
 */

const MOST = 5_000_000; // bytes of a picture sent as it is, with colour profile and EXIF data
const LIMIT = 9_000_000; // bytes of anything else
const SIDE = 1200; // pixels of the longer side otherwise; the kit looks at 400

/**
 * @param {File} file
 * @returns {Promise<Blob>}
 */
async function smaller(file) {
  const picture = await createImageBitmap(file); // upright, and in sRGB once it is drawn
  const scale = Math.min(1, SIDE / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  context.imageSmoothingEnabled = false; // colours of the picture, not mixtures of neighbours
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((done, fail) =>
    canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error("no picture"))), "image/png"));
}

/** @param {number} bytes */
function size(bytes) {
  return bytes < 1e5 ? `${(bytes / 1e3).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** @param {{model: FileModel, el: HTMLElement}} host */
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

  /** @param {File | undefined} file */
  async function take(file) {
    if (!file) return;
    said.textContent = `Reading ${file.name} …`;
    try {
      const large = pictures && file.size > MOST;
      if (!pictures && file.size > LIMIT) throw new Error("too large to be sent");
      const blob = large ? await smaller(file) : file;
      model.send({ name: file.name }, undefined, [await blob.arrayBuffer()]);
      said.textContent = `${file.name}, ${size(file.size)}${large ? ", sent smaller" : ""}`;
    } catch {
      said.textContent = `${file.name} (${size(file.size)}) could not be read here: ` +
        "lay it beside the notebook and give its path instead.";
    }
  }
  /** @param {DragEvent} event */
  const claim = (event) => {
    event.preventDefault();
    event.stopPropagation();
  };
  input.addEventListener("click", () => { input.value = ""; }); // the same one can be chosen again
  input.addEventListener("change", () => take(input.files?.[0]));
  el.addEventListener("dragover", claim);
  el.addEventListener("drop", (event) => {
    claim(event);
    take(event.dataTransfer?.files[0]);
  });
}

export default { render };
