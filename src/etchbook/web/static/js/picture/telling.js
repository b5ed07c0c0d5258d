// The numbers, the doubts and the line of words under the picture.
import { get } from "./drawn.js";
import { words } from "./overlay.js";

/** @typedef {{id: string, label: string, words: string, was: string, absent: boolean}} Row */
/** @typedef {{part: string, reason: string, remedy: string, box: number[]}} Doubt */

/** @param {string} text @param {boolean} [trouble] */
export function say(text, trouble = false) {
  const said = get("#said");
  said.textContent = text;
  said.classList.toggle("trouble", trouble);
}

/** @param {Row[]} told @param {boolean} moving whether a finger is down, when nothing may change its place */
export function rows(told, moving) {
  for (const one of told) {
    const button = get(`[data-dim="${one.id}"]`);
    if (!button) continue;
    button.classList.toggle("absent", one.absent);
    button.classList.toggle("changed", Boolean(one.was));
    /** @type {Element} */ (button.querySelector(".value")).textContent = one.words;
    /** @type {Element} */ (button.querySelector(".was")).textContent = one.was ? `changed: it was ${one.was}` : "";
    const row = /** @type {Element} */ (button.parentElement);
    if (!moving) row.parentElement?.append(row);
  }
  const changed = told.filter((one) => one.was).length;
  get("#count").textContent = changed
    ? `${changed} of ${told.length} numbers changed; each is marked and says what it was. ± is 95 %.`
    : "± is the expanded uncertainty, 95 %. Choose one to see where it is measured.";
}

/** What changed, in a line that stands on the picture. @param {Row[]} told @param {string} picked */
export function changes(told, picked) {
  const changed = told.filter((one) => one.was && !one.absent);
  const first = changed.filter((one) => one.id === picked);
  const shown = [...first, ...changed.filter((one) => one.id !== picked)].slice(0, 2);
  const more = changed.length - shown.length;
  return shown.map((one) => `${one.label}: ${one.words}, was ${one.was}`).join("\n") + (more > 0 ? `\nand ${more} more` : "");
}

/** Numbers that differ before anything was moved. @param {Row[]} told */
export const otherwise = (told) =>
  told.some((one) => one.was) ? "Nothing is moved yet: this version of the program reads the picture a little otherwise than the one that made this edition." : "";

/** @param {string} text */
const begun = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** @param {Doubt[]} told @param {boolean} ticked whether a stretch of a line is drawn with ticks @param {(box: number[]) => void} goTo */
export function doubts(told, ticked, goTo) {
  get("#doubts").hidden = !told.length && !ticked;
  get("#ticked").hidden = !ticked;
  get("#doubts ul").replaceChildren(...told.map((one) => {
    const line = document.createElement("li");
    line.textContent = `${begun(words(one.part))}: ${one.reason}. ${begun(one.remedy)}.`;
    if (one.box.length) {
      const go = document.createElement("button");
      [go.type, go.className, go.textContent] = ["button", "quiet", "Look there"];
      go.addEventListener("click", () => goTo(one.box));
      line.append(go);
    }
    return line;
  }));
}
