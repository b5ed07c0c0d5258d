// Where the eye is: pan and zoom over one photograph, or over two laid on each other.
import { drawn } from "./drawn.js";
import { Layer } from "./layer.js";

const LEAST = 0.5;
const MOST = 24;

export class View {
  /** @param {SVGSVGElement} stage @param {import("./layer.js").Size} size */
  constructor(stage, size) {
    this.stage = stage;
    this.size = size;
    this.k = 1;
    this.x = 0;
    this.y = 0;
    this.world = drawn("g", { id: "world" });
    this.layers = [new Layer(size)];
    this.world.append(this.layers[0].group);
    stage.append(this.world);
    /** @type {(() => void)[]} */
    this.onmove = [];
    this.fit({ left: 0, top: 0, right: size.width, bottom: size.height });
    new ResizeObserver(() => this.draw()).observe(stage);
  }

  /** @param {import("./layer.js").Box} box */
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
    const least = LEAST * Math.min(box.width / this.size.width, box.height / this.size.height);
    const k = Math.min(MOST, Math.max(least, this.k * times));
    this.x = x - ((x - this.x) * k) / this.k;
    this.y = y - ((y - this.y) * k) / this.k;
    this.k = k;
    this.draw();
  }

  draw() {
    this.world.setAttribute("transform", `matrix(${this.k} 0 0 ${this.k} ${this.x} ${this.y})`);
    const { width, height } = this.stage.getBoundingClientRect();
    if (!width) return;
    const sight = { left: -this.x / this.k, top: -this.y / this.k, right: (width - this.x) / this.k, bottom: (height - this.y) / this.k };
    for (const layer of this.layers) layer.load(sight, this.k);
    for (const told of this.onmove) told();
  }
}
