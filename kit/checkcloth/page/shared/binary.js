// Binary traits and buffers, whatever view of their memory they come as.

/**
 * @param {ArrayBufferView | ArrayBuffer | null | undefined} value
 * @returns {Uint8Array}
 */
export function bytesOf(value) {
  if (!value) return new Uint8Array(0);
  if (ArrayBuffer.isView(value)) {
    return new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
  }
  return new Uint8Array(value);
}

/**
 * Little-endian 32-bit floats, copied: a message's buffers need not begin at a multiple of four.
 * @param {ArrayBufferView | ArrayBuffer | null | undefined} value
 */
export function floatsOf(value) {
  const bytes = bytesOf(value).slice();
  return new Float32Array(bytes.buffer, 0, bytes.byteLength >> 2);
}
