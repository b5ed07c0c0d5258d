// What the keyboard does: arrows move a point or the picture, letters switch.

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * @param {SVGSVGElement} stage @param {Record<string, () => void>} verbs @param {(times: number) => void} zoom
 * @param {(id: string | null, dx: number, dy: number) => void} nudge
 */
export function keys(stage, verbs, zoom, nudge) {
  stage.addEventListener("keydown", (event) => {
    const id = /** @type {Element} */ (event.target).getAttribute("data-id");
    const way = ARROWS[event.key];
    if (way) {
      event.preventDefault();
      const far = event.shiftKey && id ? 10 : 1;
      nudge(id, far * way[0], far * way[1]);
    } else if (event.key === "Delete" && id) verbs.drop();
    else if (event.key === "+") zoom(1.2);
    else if (event.key === "-") zoom(1 / 1.2);
  });
  document.addEventListener("keydown", (event) => {
    const typing = /** @type {Element} */ (event.target).matches("input:not([type=range]), select, textarea");
    const key = event.key.toLowerCase();
    if (typing) return;
    if (!event.ctrlKey && !event.metaKey) {
      if (key === "h") verbs.hide();
      if (key === "b") verbs.blink();
    } else if (key === "y" || (key === "z" && event.shiftKey)) press(event, verbs.redo);
    else if (key === "z") press(event, verbs.undo);
  });
}

/** @param {KeyboardEvent} event @param {() => void} verb */
function press(event, verb) {
  event.preventDefault();
  verb();
}
