// A file from the reader's own machine: chosen or dropped, and sent to a form.

import { keepKeys } from "../shared/own_keys.js";
import { bytesToSend, sizeWords } from "../shared/sent_file.js";

/**
 * @typedef {object} FileModel
 * @property {(key: "words" | "kinds") => string} get
 * @property {(content: object, callbacks: undefined, buffers: ArrayBuffer[]) => void} send
 */

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
      const { bytes, smaller } = await bytesToSend(file, pictures);
      model.send({ name: file.name }, undefined, [bytes]);
      said.textContent = `${file.name}, ${sizeWords(file.size)}${smaller ? ", sent smaller" : ""}`;
    } catch {
      said.textContent = `${file.name} (${sizeWords(file.size)}) could not be read here: ` +
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
  return keepKeys(el); // of the whole form that it is part of
}

export default { render };
