// One photograph as tiles, laid where its registration puts it. Pixel centres lie on whole numbers.
import { drawn } from "./drawn.js";

/** @typedef {{picture: string, width: number, height: number, levels: number, side: number}} Size */
/** @typedef {{left: number, top: number, right: number, bottom: number}} Box */
/** @typedef {number[]} Matrix rows of a plane projective motion, 9 numbers */

const MOST = 80;

/** @param {Matrix} m @param {number} x @param {number} y @returns {[number, number]} */
export function through(m, x, y) {
  const w = m[6] * x + m[7] * y + m[8];
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
}

export class Layer {
  /** @param {Size} size @param {Matrix | null} onto where its pixels lie in the world, null where they are the world's
   * @param {Matrix | null} back the way back */
  constructor(size, onto = null, back = null) {
    this.size = size;
    this.onto = onto;
    this.back = back;
    this.group = drawn("g");
    /** @type {Map<string, SVGElement>} */
    this.kept = new Map();
    /** Pixels of the world for one of its own, in its middle. */
    this.coarse = 1;
    if (onto) {
      const [x, y] = [size.width / 2, size.height / 2];
      const [a, b] = [through(onto, x - 50, y), through(onto, x + 50, y)];
      this.coarse = Math.hypot(b[0] - a[0], b[1] - a[1]) / 100;
    }
  }

  /** The level whose pixels are no coarser than the screen's. @param {number} k screen px a px of the world */
  level(k) {
    const wanted = Math.ceil(Math.log2(k * this.coarse * Math.min(window.devicePixelRatio || 1, 2)));
    return Math.max(0, Math.min(this.size.levels - 1, this.size.levels - 1 + wanted));
  }

  /** Ask for the tiles in sight, and for the one coarse tile that stands in while they come.
   * @param {Box} sight in the world @param {number} k */
  load(sight, k) {
    const seen = this.seen(sight);
    /** @type {Set<string>} */
    const wanted = new Set();
    for (const level of new Set([0, this.level(k)])) this.want(level, seen, wanted);
    for (const [key, image] of this.kept) {
      if (wanted.has(key) || this.kept.size <= MOST) continue;
      image.remove();
      this.kept.delete(key);
    }
  }

  /** What is in sight, in its own pixels. @param {Box} sight @returns {Box} */
  seen(sight) {
    const { back } = this;
    if (!back) return sight;
    const corners = [[sight.left, sight.top], [sight.right, sight.top], [sight.left, sight.bottom], [sight.right, sight.bottom]];
    const there = corners.map(([x, y]) => through(back, x, y));
    const [xs, ys] = [there.map((one) => one[0]), there.map((one) => one[1])];
    return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
  }

  /** @param {number} level @param {Box} seen @param {Set<string>} wanted */
  want(level, seen, wanted) {
    const block = 2 ** (this.size.levels - 1 - level);
    const [columns, rows] = [this.size.width, this.size.height].map((n) => Math.ceil(Math.ceil(n / block) / this.size.side));
    /** @param {number} at @param {number} most */
    const tile = (at, most) => Math.max(0, Math.min(most - 1, Math.floor((at + 0.5) / block / this.size.side)));
    if (seen.right < 0 || seen.bottom < 0 || seen.left > this.size.width || seen.top > this.size.height) return;
    for (let row = tile(seen.top, rows); row <= tile(seen.bottom, rows); row++)
      for (let column = tile(seen.left, columns); column <= tile(seen.right, columns); column++) {
        const key = `${level}/${column}/${row}`;
        wanted.add(key);
        if (!this.kept.has(key)) this.add(key, block, column, row);
      }
  }

  /** @param {string} key @param {number} block @param {number} column @param {number} row */
  add(key, block, column, row) {
    const { side, picture, width, height } = this.size;
    const whole = side * block;
    /** @param {number} at @param {number} most a tile at the border holds what is left, in whole blocks */
    const part = (at, most) => Math.min(side, Math.ceil(most / block) - at * side) * block;
    const [x, y, w, h] = [column * whole - 0.5, row * whole - 0.5, part(column, width), part(row, height)];
    const image = drawn("image", { href: `/picture/${picture}/tile/${key}.jpg`, x, y, width: w, height: h, preserveAspectRatio: "none" });
    if (this.onto) image.setAttribute("transform", near(this.onto, x, y, w, h));
    this.kept.set(key, image);
    key.startsWith("0/") ? this.group.prepend(image) : this.group.append(image);
  }
}

/** A motion as SVG knows it, true in the middle of a tile and along its sides.
 * @param {Matrix} m @param {number} x @param {number} y @param {number} w @param {number} h */
function near(m, x, y, w, h) {
  const middle = through(m, x + w / 2, y + h / 2);
  const [left, right] = [through(m, x, y + h / 2), through(m, x + w, y + h / 2)];
  const [top, bottom] = [through(m, x + w / 2, y), through(m, x + w / 2, y + h)];
  const [a, b] = [(right[0] - left[0]) / w, (right[1] - left[1]) / w];
  const [c, d] = [(bottom[0] - top[0]) / h, (bottom[1] - top[1]) / h];
  return `matrix(${a} ${b} ${c} ${d} ${middle[0] - a * (x + w / 2) - c * (y + h / 2)} ${middle[1] - b * (x + w / 2) - d * (y + h / 2)})`;
}
