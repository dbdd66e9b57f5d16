// The sliders beside the wall are widgets of their own: heard here, and given names here.

class Sliders {
  constructor(desk) {
    this.desk = desk;
    this.model = desk.model;
    this.heard = [];
    this.watches = [];
    this.hear();
  }

  /** The check size is followed here, without the kernel; of the others we await the effect. */
  async hear() {
    const find = async (key) => {
      const id = this.model.get("controls")[key];
      if (!id) return null;
      try { return await this.model.widget_manager.get_model(id.replace("IPY_MODEL_", "")); }
      catch { return null; }
    };
    const [size, strength] = [await find("size"), await find("strength")];
    if (this.closed) return;
    this.size = size;
    const on = (slider, event, act) => {
      if (!slider) return;
      slider.on(event, act);
      this.heard.push([slider, event, act]);
    };
    on(size, "change:index", () => {
      if (this.inches) this.desk.setInches(this.inches);
      this.desk.link.expect();
    });
    on(strength, "change:value", () => this.desk.link.expect());
    this.giveNames();
  }

  /** The check size that the slider stands at, undefined before there is one. */
  get inches() {
    return this.model.get("steps")[this.size?.get("index")];
  }

  /** The sliders draw their own handles, without names. */
  giveNames(tries = 200) {
    if (this.closed) return;
    const box = this.desk.root.closest(".widget-vbox");
    const sliders = box?.querySelectorAll(".cc-settings .widget-slider") ?? [];
    if (sliders.length < 3 && tries) { // the sliders come to the page after the wall, or before
      requestAnimationFrame(() => this.giveNames(tries - 1));
      return;
    }
    for (const slider of sliders) {
      const handle = slider.querySelector('[role="slider"]');
      const label = slider.querySelector(".widget-label");
      const readout = slider.querySelector(".widget-readout");
      if (!handle || !label) continue;
      const name = () => {
        const words = readout?.textContent || handle.getAttribute("aria-valuenow");
        if (handle.getAttribute("aria-valuetext") !== words) handle.setAttribute("aria-valuetext", words);
      };
      handle.setAttribute("aria-label", label.textContent);
      name();
      const watch = new MutationObserver(name);
      watch.observe(handle, { attributes: true, attributeFilter: ["aria-valuetext", "aria-valuenow"] });
      if (readout) watch.observe(readout, { childList: true, characterData: true, subtree: true });
      this.watches.push(watch);
    }
  }

  close() {
    this.closed = true;
    for (const [slider, event, act] of this.heard) slider.off(event, act);
    this.watches.forEach((watch) => watch.disconnect());
  }
}
