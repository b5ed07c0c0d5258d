// SVG elements and their words.

export const SVG = "http://www.w3.org/2000/svg";

/** @param {string} name @param {Record<string, string | number>} [kept] @returns {SVGElement} */
export function drawn(name, kept = {}) {
  const made = /** @type {SVGElement} */ (document.createElementNS(SVG, name));
  for (const [key, value] of Object.entries(kept)) made.setAttribute(key, String(value));
  return made;
}

/** An element of the page that is always there. @param {string} where @returns {HTMLElement} */
export const get = (where) => /** @type {HTMLElement} */ (document.querySelector(where));

/** A field of it. @param {string} where @returns {HTMLInputElement} */
export const field = (where) => /** @type {HTMLInputElement} */ (document.querySelector(where));

/** @param {string} name @returns {HTMLButtonElement} */
export const button = (name) => /** @type {HTMLButtonElement} */ (document.querySelector(`[data-do="${name}"]`));
