// The scale set another way: by two taps on the rule, by its graduations, or by a plate's thickness.
import { drawn, field, get } from "./drawn.js";
import { say } from "./telling.js";

/** @typedef {import("./history.js").Point} Point */

export class Scaling {
  /** @param {import("./overlay.js").Overlay} overlay @param {(typed: string) => void} set */
  constructor(overlay, set) {
    this.overlay = overlay;
    this.set = set;
    /** @type {Point[] | null} the taps on the rule, where they are being waited for */
    this.taps = null;
    this.marks = drawn("g", { class: "shown fixed" });
    overlay.lines.append(this.marks);
    this.form("#scale-points", () => this.begin());
    this.form("#scale-rule", () => set("rule"));
    this.form("#scale-thick", () => this.thickness());
  }

  /** @param {string} where @param {() => void} what */
  form(where, what) {
    get(where).addEventListener("submit", (event) => {
      event.preventDefault();
      what();
    });
  }

  begin() {
    if (!(number("#length") > 0)) return say("Type the length between the two points first, in mm.", true);
    this.taps = [];
    this.draw([]);
    say("Tap the first point on the rule. Zoom in for a sure aim.");
  }

  thickness() {
    if (!(number("#thick") > 0)) return say("Type the thickness of the plate first, in mm.", true);
    this.set(`thickness_${field("#member").value}=${number("#thick")}`);
  }

  /** @param {Point} at @returns {boolean} whether the tap was for the scale */
  tap(at) {
    if (!this.taps) return false;
    this.taps.push(at);
    this.draw(this.taps);
    if (this.taps.length === 1) say("Now the second point on the rule.");
    else {
      const places = this.taps.flat().map((one) => one.toFixed(1));
      this.taps = null;
      this.set(`points=${places.join(",")},${number("#length")}`);
    }
    return true;
  }

  /** Show where the scale was taken, as it stands in the history. @param {string} typed */
  show(typed) {
    this.taps = null;
    const [kind, places] = typed.split("=");
    const at = kind === "points" ? places.split(",").map(Number) : [];
    this.draw(at.length >= 4 ? [[at[0], at[1]], [at[2], at[3]]] : []);
  }

  /** @param {Point[]} taps */
  draw(taps) {
    this.marks.replaceChildren();
    if (taps.length === 2) {
      const d = `M${taps.join("L")}`;
      this.marks.append(drawn("path", { d, class: "under" }), drawn("path", { d, class: "over" }));
    }
    for (const at of taps) this.marks.append(this.overlay.end(at));
  }
}

/** A length as it was typed, with a point or a comma. @param {string} where */
function number(where) {
  const typed = field(where).value.trim().replace(",", ".");
  return /^\d*\.?\d+$/.test(typed) ? Number(typed) : Number.NaN;
}
