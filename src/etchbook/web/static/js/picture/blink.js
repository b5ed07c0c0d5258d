// Another picture of the same face under this one: switched to with a key, or uncovered with a wipe.
import { drawn, field } from "./drawn.js";
import { Layer } from "./layer.js";

/** @typedef {import("./layer.js").Size & {onto: number[], back: number[], words: string}} Under */

export class Blink {
  /** @param {import("./view.js").View} view */
  constructor(view) {
    this.view = view;
    /** Share of the stage, from the left, that shows the first picture. */
    this.share = 1;
    /** @type {Layer | null} */
    this.other = null;
    this.cut = drawn("rect");
    this.behind = drawn("rect", { class: "behind fixed" }); // where the other picture shows nothing, neither does the first
    const clip = drawn("clipPath", { id: "uncovered" });
    clip.append(this.cut);
    this.cover = drawn("g", { "clip-path": "url(#uncovered)" });
    view.layers[0].group.after(clip, this.cover);
    this.wipe = drawn("g", { visibility: "hidden" });
    this.edge = drawn("line", { class: "wipe", y1: 0 });
    this.grip = drawn("circle", { class: "wipe-grip", r: 14 });
    this.names = [drawn("text", { class: "tag end-side" }), drawn("text", { class: "tag" })];
    this.wipe.append(this.edge, ...this.names, this.grip);
    view.stage.append(this.wipe);
    view.onmove.push(() => this.draw());
  }

  /** @param {Under | null} under */
  lay(under) {
    if (this.other) this.view.layers.pop();
    this.cover.replaceChildren();
    this.other = under && new Layer(under, under.onto, under.back);
    if (this.other) {
      this.view.layers.push(this.other);
      this.cover.append(this.behind, this.other.group);
      this.names.forEach((one, place) => { one.textContent = place ? this.other?.size.picture ?? "" : this.view.size.picture; });
    }
    this.show(under ? 0 : 1);
  }

  /** @param {number} share */
  show(share) {
    this.share = Math.max(0, Math.min(1, share));
    field("#share").value = String(Math.round(100 * this.share));
    this.view.draw();
  }

  /** From one picture to the other. */
  turn() {
    if (this.other) this.show(this.share < 1 ? 1 : 0);
  }

  draw() {
    const { k, x, y, stage } = this.view;
    const { width, height } = stage.getBoundingClientRect();
    const at = width * this.share;
    const place = { x: (at - x) / k, y: -y / k, width: Math.max(0, width - at) / k, height: height / k };
    for (const box of [this.cut, this.behind])
      for (const [name, value] of Object.entries(place)) box.setAttribute(name, String(value));
    this.wipe.setAttribute("visibility", this.other ? "visible" : "hidden");
    this.wipe.setAttribute("transform", `translate(${at} 0)`);
    this.edge.setAttribute("y2", String(height));
    this.grip.setAttribute("cy", String(height / 2));
    this.grip.setAttribute("cx", String(Math.min(width - 16 - at, Math.max(16 - at, 0))));
    this.names.forEach((one, place) => {
      one.setAttribute("y", "22");
      one.setAttribute("x", place ? "8" : "-8");
    });
  }
}
