// Where the eye is: pan, zoom and the tiles that are in sight. Pixel centres lie on whole numbers.

export const SVG = "http://www.w3.org/2000/svg";

/** @param {string} name @param {Record<string, string | number>} [kept] @returns {SVGElement} */
export function drawn(name, kept = {}) {
  const made = /** @type {SVGElement} */ (document.createElementNS(SVG, name));
  for (const [key, value] of Object.entries(kept)) made.setAttribute(key, String(value));
  return made;
}

/** @typedef {{picture: string, width: number, height: number, levels: number, side: number}} Size */

export class View {
  /** @param {SVGSVGElement} stage @param {Size} size */
  constructor(stage, size) {
    this.stage = stage;
    this.size = size;
    this.k = 1;
    this.x = 0;
    this.y = 0;
    this.world = drawn("g", { id: "world" });
    this.tiles = drawn("g");
    this.world.append(this.tiles);
    stage.append(this.world);
    /** @type {Map<string, SVGElement>} */
    this.kept = new Map();
    /** @type {() => void} */
    this.onmove = () => {};
    this.fit({ left: 0, top: 0, right: size.width, bottom: size.height });
    new ResizeObserver(() => this.draw()).observe(stage);
  }

  /** @param {{left: number, top: number, right: number, bottom: number}} box */
  fit(box) {
    const { width, height } = this.stage.getBoundingClientRect();
    this.k = Math.min(width / (box.right - box.left), height / (box.bottom - box.top), 16) || 1;
    this.x = width / 2 - (this.k * (box.left + box.right)) / 2;
    this.y = height / 2 - (this.k * (box.top + box.bottom)) / 2;
    this.draw();
  }

  /** Screen to picture. @param {{clientX: number, clientY: number}} at @returns {[number, number]} */
  toPicture(at) {
    const box = this.stage.getBoundingClientRect();
    return [(at.clientX - box.left - this.x) / this.k, (at.clientY - box.top - this.y) / this.k];
  }

  /** @param {number} dx @param {number} dy */
  pan(dx, dy) {
    this.x += dx;
    this.y += dy;
    this.draw();
  }

  /** Zoom about a place of the stage. @param {number} times @param {number} x @param {number} y */
  zoom(times, x, y) {
    const box = this.stage.getBoundingClientRect();
    const least = 0.5 * Math.min(box.width / this.size.width, box.height / this.size.height);
    const k = Math.min(24, Math.max(least, this.k * times));
    this.x = x - ((x - this.x) * k) / this.k;
    this.y = y - ((y - this.y) * k) / this.k;
    this.k = k;
    this.draw();
  }

  draw() {
    this.world.setAttribute("transform", `matrix(${this.k} 0 0 ${this.k} ${this.x} ${this.y})`);
    this.load();
    this.onmove();
  }

  /** The level whose pixels are no coarser than the screen's. */
  level() {
    const wanted = Math.ceil(Math.log2(this.k * Math.min(window.devicePixelRatio || 1, 2)));
    return Math.max(0, Math.min(this.size.levels - 1, this.size.levels - 1 + wanted));
  }

  load() {
    const { width, height } = this.stage.getBoundingClientRect();
    if (!width) return;
    /** @type {Set<string>} */
    const wanted = new Set();
    for (const level of new Set([0, this.level()])) this.want(level, width, height, wanted);
    for (const [key, image] of this.kept) {
      if (!wanted.has(key) && this.kept.size > 80) {
        image.remove();
        this.kept.delete(key);
      }
    }
  }

  /** @param {number} level @param {number} width @param {number} height @param {Set<string>} wanted */
  want(level, width, height, wanted) {
    let w = this.size.width;
    let h = this.size.height;
    for (let i = this.size.levels - 1; i > level; i--) [w, h] = [Math.ceil(w / 2), Math.ceil(h / 2)];
    const [sx, sy, side] = [this.size.width / w, this.size.height / h, this.size.side];
    const from = (/** @type {number} */ v) => Math.max(0, Math.floor(v / side));
    const left = from((-this.x / this.k + 0.5) / sx);
    const top = from((-this.y / this.k + 0.5) / sy);
    const right = Math.min(Math.ceil(w / side) - 1, from(((width - this.x) / this.k + 0.5) / sx));
    const bottom = Math.min(Math.ceil(h / side) - 1, from(((height - this.y) / this.k + 0.5) / sy));
    for (let row = top; row <= bottom; row++)
      for (let column = left; column <= right; column++) {
        const key = `${level}/${column}/${row}`;
        wanted.add(key);
        if (this.kept.has(key)) continue;
        const image = drawn("image", {
          href: `/picture/${this.size.picture}/tile/${key}.jpg`,
          x: column * side * sx - 0.5,
          y: row * side * sy - 0.5,
          width: Math.min(side, w - column * side) * sx,
          height: Math.min(side, h - row * side) * sy,
          preserveAspectRatio: "none",
        });
        this.kept.set(key, image);
        level ? this.tiles.append(image) : this.tiles.prepend(image);
      }
  }
}
