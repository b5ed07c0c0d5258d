// Pointers: one takes hold of a point, a line or the picture; two pinch; the wheel zooms.

/** @typedef {import("./history.js").Point} Point */
/**
 * @typedef {{
 *   begin: (target: Element, at: Point) => boolean, move: (at: Point) => void,
 *   end: (at: Point, cancelled: boolean) => void, tap: (at: Point) => void
 * }} Hand
 */

const STILL = 4;

/** @param {import("./view.js").View} view @param {Hand} hand */
export function listen(view, hand) {
  const stage = view.stage;
  /** @type {Map<number, PointerEvent>} */
  const down = new Map();
  let held = false;
  let moved = false;
  /** @type {Point} */
  let offset = [0, 0];
  /** @type {PointerEvent | null} */
  let first = null;

  /** @param {PointerEvent} event @returns {Point} */
  const at = (event) => {
    const [x, y] = view.toPicture(event);
    return [x + offset[0], y + offset[1]];
  };

  stage.addEventListener("pointerdown", (event) => {
    if (event.button > 0) return;
    try { stage.setPointerCapture(event.pointerId); } catch { /* a pointer that is gone already */ }
    down.set(event.pointerId, event);
    if (down.size === 2) {
      if (held) hand.end(view.toPicture(event), true);
      held = false;
      moved = true;
      return;
    }
    if (down.size > 2) return;
    [first, moved, offset] = [event, false, [0, 0]];
    const target = /** @type {Element} */ (event.target);
    const point = target.closest(".point");
    const from = view.toPicture(event);
    // A point is moved by what the finger moves, so that it never jumps under it.
    if (point) offset = [Number(point.getAttribute("data-x")) - from[0], Number(point.getAttribute("data-y")) - from[1]];
    held = hand.begin(target, at(event));
  });

  stage.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    if (down.size === 2) pinch(view, down, event);
    else if (first && (moved || Math.hypot(event.clientX - first.clientX, event.clientY - first.clientY) > STILL)) {
      moved = true;
      if (held) hand.move(at(event));
      else view.pan(event.clientX - before.clientX, event.clientY - before.clientY);
    }
    down.set(event.pointerId, event);
  });

  /** @param {PointerEvent} event */
  const up = (event) => {
    if (!down.delete(event.pointerId)) return;
    if (held) hand.end(at(event), event.type === "pointercancel" || !moved);
    if (!moved && event.type === "pointerup") hand.tap(view.toPicture(event));
    held = false;
  };
  stage.addEventListener("pointerup", up);
  stage.addEventListener("pointercancel", up);

  stage.addEventListener("wheel", (event) => {
    event.preventDefault();
    const box = stage.getBoundingClientRect();
    view.zoom(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0015)), event.clientX - box.left, event.clientY - box.top);
  }, { passive: false });
}

/** @param {import("./view.js").View} view @param {Map<number, PointerEvent>} down @param {PointerEvent} event */
function pinch(view, down, event) {
  const before = [...down.values()];
  const after = before.map((one) => (one.pointerId === event.pointerId ? event : one));
  /** @param {PointerEvent[]} two */
  const seen = ([a, b]) => ({ x: (a.clientX + b.clientX) / 2, y: (a.clientY + b.clientY) / 2,
    apart: Math.max(1, Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY)) });
  const [old, now] = [seen(before), seen(after)];
  const box = view.stage.getBoundingClientRect();
  view.pan(now.x - old.x, now.y - old.y);
  view.zoom(now.apart / old.apart, now.x - box.left, now.y - box.top);
}
