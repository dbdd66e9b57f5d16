// A widget's model over a kernel that is no Jupyter's: messages go by POST, and come as events.
//
// As in a notebook: requests go at once, changes one message at a time, and what the kernel says
// of a setting that the page has changed since is let pass.

import { FakeModel, binary } from "/fake_model.js";

const signs = (bytes) => Array.from(new Uint8Array(bytes), (byte) => String.fromCharCode(byte));

export class KernelModel extends FakeModel {
  #line = Promise.resolve(); // messages go one after another
  #last = 0;
  #changing = null; // the message of changes that the kernel has not done with
  #due = {}; // settings whose echo is due, by the message that it must be of

  /** The model of a desk, once the kernel has told all that it is. */
  static opened() {
    const stream = new EventSource("/events");
    return new Promise((done) => {
      let model;
      stream.onmessage = ({ data }) => {
        const event = JSON.parse(data);
        if (model) model.#hear(event);
        else done((model = new KernelModel({ traits: state(event), bytes: {}, details: {} })));
      };
    });
  }

  send(content, _, buffers = []) {
    this.sent.push(content);
    this.#post({ method: "custom", content }, buffers);
  }

  save_changes() {
    if (this.#changing || !this.changed.size) return;
    const names = [...this.changed];
    this.changed.clear();
    this.#changing = this.#post({ method: "update", buffer_paths: [],
      state: Object.fromEntries(names.map((name) => [name, this.get(name)])) });
    for (const name of names) this.#due[name] = this.#changing;
  }

  #post(data, buffers = []) {
    const id = (this.#last += 1);
    const body = JSON.stringify({ id, data, buffers: buffers.map((one) => btoa(signs(one).join(""))) });
    this.#line = this.#line.then(() => fetch("/message", { method: "POST", body }));
    return id;
  }

  #hear({ parent, data, buffers, done }) {
    if (done) {
      if (parent !== this.#changing) return;
      this.#changing = null;
      this.save_changes();
    } else if (data.method === "custom") {
      this.trigger("msg:custom", data.content, buffers.map(binary));
    } else {
      const echo = data.method === "echo_update";
      const told = Object.entries(state({ data, buffers })).filter(([name]) => {
        const due = this.#due[name];
        if (echo && due === parent) delete this.#due[name];
        return due === undefined && !this.changed.has(name);
      });
      this.receive(Object.fromEntries(told));
    }
  }
}

/** What a message says of traits, with the bytes where they belong. */
function state({ data, buffers }) {
  data.buffer_paths.forEach((path, at) => {
    const last = path.pop();
    path.reduce((within, key) => within[key], data.state)[last] = binary(buffers[at]);
  });
  return data.state;
}
