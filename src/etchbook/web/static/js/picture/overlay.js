// The outline as lines, points to take hold of, and a loupe beside the finger.
import { drawn } from "./drawn.js";

/** @typedef {import("./history.js").Point} Point */
/** @typedef {{name: string, points: Point[], pinned: boolean, doubt: string, unclear: Point[][]}} Boundary */
/** @typedef {{name: string, point: Point, pinned: boolean}} Landmark */

export const MOVABLE = new Set(["toe_1", "toe_2", "joint_root"]);
const LINES = /^(weld_face|fusion_line_[12]|haz_edge_[12]|surface_[12]|back_[12])$/;
export const STRAIGHT = /^(surface|back)_/;

/** @param {string} name */
export const words = (name) => name.replaceAll("_", " ").replace("haz", "HAZ");
/** @param {Point[]} points */
const path = (points) => "M" + points.map((one) => one.join(" ")).join("L");

export class Overlay {
  /** @param {import("./view.js").View} view */
  constructor(view) {
    this.view = view;
    this.lines = drawn("g", { id: "lines" });
    this.outline = drawn("g");
    this.shown = drawn("g", { class: "shown fixed" });
    this.points = drawn("g");
    this.lines.append(this.outline, this.shown, this.points);
    view.world.append(this.lines);
    this.loupe = this.makeLoupe();
    view.onmove.push(() => this.resize());
  }

  /** @param {{boundaries: Boundary[], landmarks: Landmark[]}} outline */
  draw(outline) {
    this.outline.replaceChildren(...outline.boundaries.map((one) => this.boundary(one)));
    const root = outline.landmarks;
    for (const one of root) this.point(`at:${one.name}`, one.name, one.point, one.pinned, !MOVABLE.has(one.name));
    this.resize();
  }

  /** @param {Boundary} one */
  boundary(one) {
    const kind = one.name.startsWith("haz") ? "haz" : STRAIGHT.test(one.name) || one.name === "top_2" ? "plate" : "weld";
    const group = drawn("g", { class: `${kind}${one.doubt ? " doubted" : ""}` });
    const d = path(one.points);
    group.append(drawn("path", { d, class: "under fixed" }), drawn("path", { d, class: "over fixed" }));
    if (LINES.test(one.name)) group.append(drawn("path", { d, class: "grab", "data-line": one.name }));
    for (const part of one.unclear) group.append(...this.ticks(part));
    if (one.doubt) {
      const [x, y] = one.points[Math.floor(one.points.length / 2)];
      group.append(this.words(`? ${words(one.name)}`, [x, y]));
    }
    return group;
  }

  /** Ticks across a stretch that hardly stands out. @param {Point[]} part */
  ticks(part) {
    const d = path(part);
    return [drawn("path", { d, class: "unclear-under fixed" }), drawn("path", { d, class: "unclear fixed" })];
  }

  /** @param {string} text @param {Point} at */
  words(text, [x, y]) {
    const made = drawn("text", { "data-x": x, "data-y": y, y: -12 });
    made.textContent = text;
    return made;
  }

  /** The filled point at the end of a measured line. @param {Point} at */
  end([x, y]) {
    const made = drawn("g", { "data-x": x, "data-y": y });
    made.append(drawn("circle", { class: "end", r: 5 }));
    this.place(made);
    return made;
  }

  /** A point that can be taken hold of; it is moved, not made anew, so that it keeps the focus.
   * @param {string} id @param {string} name @param {Point} at @param {boolean} pinned @param {boolean} fixed */
  point(id, name, at, pinned, fixed = false) {
    let group = /** @type {SVGElement | null} */ (this.points.querySelector(`[data-id="${id}"]`));
    if (!group) {
      group = drawn("g", { "data-id": id, class: "point" });
      if (!fixed) group.append(drawn("circle", { class: "spot" }));
      group.append(drawn("circle", { class: "ring" }), drawn("circle", { class: "ring light" }), drawn("circle", { class: "dot" }));
      if (!fixed) {
        group.setAttribute("tabindex", "0");
        group.setAttribute("role", "button");
        group.setAttribute("aria-label", `${words(name)}: arrow keys move it`);
      }
      this.points.append(group);
    }
    group.classList.toggle("pinned", pinned);
    group.setAttribute("data-x", String(at[0]));
    group.setAttribute("data-y", String(at[1]));
    this.place(group);
    return group;
  }

  /** @param {Record<string, Point | import("./history.js").Pins>} marks */
  pins(marks) {
    const wanted = new Set();
    for (const [name, mark] of Object.entries(marks)) {
      if (Array.isArray(mark)) continue;
      mark.points.forEach((at, number) => {
        const id = `pin:${name}:${number}`;
        wanted.add(id);
        this.point(id, `mark ${number + 1} on ${words(name)}`, at, true);
      });
    }
    for (const one of [...this.points.children]) {
      const id = one.getAttribute("data-id") ?? "";
      if (id.startsWith("pin:") && !wanted.has(id)) one.remove();
    }
  }

  /** @param {Element} group */
  place(group) {
    const [x, y, unit] = [group.getAttribute("data-x"), group.getAttribute("data-y"), 1 / this.view.k];
    group.setAttribute("transform", `translate(${x} ${y}) scale(${unit})`);
    const radii = { spot: 20, ring: 8, dot: 2 };
    for (const [kind, r] of Object.entries(radii))
      for (const one of group.querySelectorAll(`.${kind}`)) one.setAttribute("r", String(r));
  }

  resize() {
    for (const one of this.lines.querySelectorAll("[data-x]")) this.place(one);
  }

  /** A dimension where it is measured, its value beside it. @param {Point[] | undefined} line @param {string} value */
  show(line, value) {
    this.shown.replaceChildren();
    if (!line) return;
    const d = path(line);
    this.shown.append(drawn("path", { d, class: "under" }), drawn("path", { d, class: "over" }));
    for (const at of line) this.shown.append(this.end(at));
    const [a, b] = [line[0], line[line.length - 1]];
    const text = this.words(value, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
    this.place(text);
    this.shown.append(text);
  }

  makeLoupe() {
    const loupe = drawn("g", { class: "fixed", visibility: "hidden" });
    const clip = drawn("clipPath", { id: "loupe-clip" });
    clip.append(drawn("circle", { r: 62 }));
    const inside = drawn("g", { "clip-path": "url(#loupe-clip)" });
    const copy = drawn("use", { href: "#world" });
    inside.append(copy);
    loupe.append(clip, inside, drawn("circle", { r: 62, class: "loupe-rim" }),
      drawn("path", { d: "M-14 0H-3M3 0H14M0-14V-3M0 3V14", class: "cross" }));
    this.view.stage.append(loupe);
    return { group: loupe, copy };
  }

  /** Beside the finger, on the side where there is room. @param {Point | null} at */
  look(at) {
    this.loupe.group.setAttribute("visibility", at ? "visible" : "hidden");
    if (!at) return;
    const { k, x, y, stage } = this.view;
    const [sx, sy] = [at[0] * k + x, at[1] * k + y];
    const box = stage.getBoundingClientRect();
    const lx = sx > box.width / 2 ? sx - 100 : sx + 100;
    const ly = Math.min(box.height - 66, Math.max(66, sy - 90));
    this.loupe.group.setAttribute("transform", `translate(${lx} ${ly})`);
    const times = 3;
    this.loupe.copy.setAttribute("transform", `scale(${times}) translate(${-sx} ${-sy})`);
  }
}
