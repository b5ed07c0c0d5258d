// What a moved point does to the marks.
import { STRAIGHT } from "./overlay.js";

/** @typedef {import("./history.js").Point} Point */
/** @typedef {import("./history.js").State} State */
/** @typedef {import("./overlay.js").Boundary} Boundary */

/** Take hold of what is under the finger: its id, made where there is none yet.
 * @param {State} state @param {Element} target @param {Point} at @param {Boundary[]} boundaries @returns {string} */
export function takeHold(state, target, at, boundaries) {
  const point = target.closest(".point");
  if (point?.hasAttribute("tabindex")) return point.getAttribute("data-id") ?? "";
  const name = target.getAttribute("data-line");
  return name ? pin(state, name, at, boundaries.find((one) => one.name === name)) : "";
}

/** Put one more mark on a boundary. Where two are needed its far end is the other.
 * @param {State} state @param {string} name @param {Point} at @param {Boundary | undefined} boundary @returns {string} */
export function pin(state, name, at, boundary) {
  const old = state.marks[name];
  const points = old && !Array.isArray(old) ? old.points : [];
  const straight = STRAIGHT.test(name);
  if (!points.length && boundary && (straight || name.startsWith("haz"))) {
    const [a, b] = [boundary.points[0], boundary.points[boundary.points.length - 1]];
    const far = Math.hypot(a[0] - at[0], a[1] - at[1]) > Math.hypot(b[0] - at[0], b[1] - at[1]);
    points.push(...(straight ? [far ? a : b] : [a, b]));
  }
  points.push(at);
  state.marks[name] = { follow: straight, points };
  return `pin:${name}:${points.length - 1}`;
}

/** @param {State} state @param {string} id @param {Point} at */
export function put(state, id, at) {
  const [kind, name, number] = id.split(":");
  /** @type {Point} */
  const place = [Math.round(at[0] * 10) / 10, Math.round(at[1] * 10) / 10];
  const mark = state.marks[name];
  if (kind === "at") state.marks[name] = place;
  else if (mark && !Array.isArray(mark)) mark.points[Number(number)] = place;
}

/** @param {State} state @param {string} id */
export function drop(state, id) {
  const [kind, name, number] = id.split(":");
  const mark = state.marks[name];
  if (kind === "pin" && mark && !Array.isArray(mark)) {
    mark.points.splice(Number(number), 1);
    const least = STRAIGHT.test(name) || name.startsWith("haz") ? 2 : 1;
    if (mark.points.length >= least) return;
  }
  delete state.marks[name];
}
