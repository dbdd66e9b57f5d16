// What the desk says of itself: that the kernel is quiet, what was done, what an earlier session kept.

class Notices {
  constructor(desk) {
    this.desk = desk;
    this.banner = make("div", { class: "cc-banner", role: "alert" });
    this.banner.hidden = true;
    this.offer = make("div", { class: "cc-offer" });
    this.status = make("p", { class: "cc-status", role: "status", "aria-live": "polite" });
  }

  get facts() {
    return this.desk.model.get("facts");
  }

  fill() {
    this.showOffer();
    this.showMessage();
  }

  showQuiet(quiet) {
    const { saved } = this.facts;
    this.desk.root.classList.toggle("cc-quieted", quiet);
    this.banner.hidden = !quiet;
    if (!quiet) return;
    say(this.banner, "The kernel is not answering: it may be busy, stopped or restarted. "
      + `${saved ? `What you kept is safe (${saved}). ` : ""}`
      + "Changes made from now on wait for it; if it was restarted, run the notebook again.");
  }

  showMessage() {
    const { message, retired } = this.facts;
    if (retired) {
      const { root } = this.desk;
      root.classList.add("cc-retired");
      root.inert = true;
      this.banner.hidden = false;
      say(this.banner, "This desk was closed, because it was opened again elsewhere. "
        + "Everything on it is there.");
    }
    this.status.classList.toggle("cc-wrong", message.startsWith("Not done"));
    say(this.status, message);
  }

  complain(text) {
    this.status.classList.add("cc-wrong");
    say(this.status, `Not done: ${text}`);
  }

  showOffer() {
    const { offer } = this.facts;
    const { desk } = this;
    this.offer.hidden = !offer.length;
    this.offer.replaceChildren(...(offer.length ? [
      make("p", { text: "Kept in an earlier session, and left as it is:" }),
      ...offer.slice(0, 5).map((one) => make("div", { class: "cc-row" },
        make("span", { text: one.words }),
        one.fault ? null : button("Take onto this desk", () => desk.act("take", 0, { file: one.file }),
          { label: `Take ${one.words} onto this desk`, kind: "cc-small" }))),
      button("Not now", () => desk.act("dismiss"), { kind: "cc-small" })] : []));
  }
}
