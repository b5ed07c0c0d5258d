// What was done, one step after the other; the start is always there to go back to.

/** @typedef {[number, number]} Point */
/** @typedef {{follow: boolean, points: Point[]}} Pins */
/** @typedef {{marks: Record<string, Point | Pins>, scale: string}} State */

export class History {
  /** @param {State} start */
  constructor(start) {
    /** @type {State[]} */
    this.steps = [structuredClone(start)];
    this.at = 0;
  }

  /** @returns {State} */
  get now() {
    return structuredClone(this.steps[this.at]);
  }

  /** @param {State} state */
  add(state) {
    if (JSON.stringify(state) === JSON.stringify(this.steps[this.at])) return;
    this.steps.splice(this.at + 1, Infinity, structuredClone(state));
    this.at += 1;
  }

  /** @param {number} steps */
  go(steps) {
    this.at = Math.max(0, Math.min(this.steps.length - 1, this.at + steps));
  }

  get changed() {
    return JSON.stringify(this.steps[this.at]) !== JSON.stringify(this.steps[0]);
  }
}
