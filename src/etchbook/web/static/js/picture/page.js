// The picture page: the photograph, the marks on it, and the numbers that come back from the bench.
import { Asking, post } from "./asking.js";
import { listen } from "./fingers.js";
import { History } from "./history.js";
import { drop, pin, put, takeHold } from "./marking.js";
import { Overlay, words } from "./overlay.js";
import { View } from "./view.js";

/** @typedef {import("./history.js").Point} Point */

/** @template {Element} T @param {string} where @returns {T} */
const get = (where) => /** @type {T} */ (document.querySelector(where));
const bench = /** @type {HTMLElement} */ (get("#bench"));
const start = JSON.parse(bench.dataset.start ?? "{}");
const stage = /** @type {SVGSVGElement} */ (get("#stage"));
const view = new View(stage, start);
const overlay = new Overlay(view);
const history = new History({ marks: start.marks, scale: "" });
const chosen = /** @type {HTMLSelectElement} */ (get("#pin"));
let state = history.now;
let hold = "";
let focused = "";
let picked = "";
/** @type {Point[] | null} */
let rule = null;
/** @type {any} */
let last = null;

/** @param {string} text @param {boolean} [trouble] */
function say(text, trouble = false) {
  const said = get("#said");
  said.textContent = text;
  said.classList.toggle("trouble", trouble);
}

const asking = new Asking(start.code, show, (text) => say(text, true));

/** @param {boolean} [quick] */
const ask = (quick = false) => void asking.ask({ ...structuredClone(state), quick });

/** @param {any} answer */
function show(answer) {
  const fresh = last === null;
  last = answer;
  overlay.draw(answer.outline);
  overlay.pins(state.marks);
  if (hold) overlay.point(hold, "", spot(hold), true);
  rows(answer.rows);
  overlay.show(answer.lines[picked]);
  doubts(answer);
  get("#scale-words").textContent = answer.scale;
  say(answer.asked || (history.changed ? "Changed numbers say what they were." : ""), Boolean(answer.asked));
  if (fresh) begin(answer);
}

/** @param {any} answer */
function begin(answer) {
  for (const one of answer.outline.boundaries)
    if (overlay.outline.querySelector(`[data-line="${one.name}"]`)) chosen.add(new Option(words(one.name), one.name));
  if (chosen.length === 1)
    for (const name of ["weld_face", "fusion_line_1"]) chosen.add(new Option(words(name), name));
  bench.dataset.ready = "yes";
  toWeld();
}

/** @param {{id: string, words: string, was: string, absent: boolean}[]} told */
function rows(told) {
  for (const one of told) {
    const button = get(`[data-dim="${one.id}"]`);
    if (!button) continue;
    button.classList.toggle("absent", one.absent);
    /** @type {Element} */ (button.querySelector(".value")).textContent = one.words;
    /** @type {Element} */ (button.querySelector(".was")).textContent = one.was ? `changed: it was ${one.was}` : "";
    const row = /** @type {Element} */ (button.parentElement);
    if (!hold) row.parentElement?.append(row);
  }
}

/** @param {{doubts: {part: string, reason: string, remedy: string}[]}} answer */
function doubts(answer) {
  const box = /** @type {HTMLElement} */ (get("#doubts"));
  box.hidden = !answer.doubts.length;
  /** @type {Element} */ (box.querySelector("ul")).replaceChildren(...answer.doubts.map((one) => {
    const line = document.createElement("li");
    line.textContent = `${words(one.part)}: ${one.reason}. ${one.remedy}`;
    return line;
  }));
}

/** @param {string} id @returns {Point} */
function spot(id) {
  const [kind, name, number] = id.split(":");
  const mark = state.marks[name];
  if (kind === "pin" && mark && !Array.isArray(mark)) return mark.points[Number(number)];
  if (Array.isArray(mark)) return mark;
  return last.outline.landmarks.find((/** @type {any} */ one) => one.name === name).point;
}

/** Keep what was done as one step and ask for the numbers of record. */
function done() {
  history.add(state);
  refresh();
}

function refresh() {
  state = history.now;
  overlay.pins(state.marks);
  button("undo").disabled = history.at === 0;
  button("start").disabled = !history.changed;
  button("redo").disabled = history.at === history.steps.length - 1;
  button("save").disabled = !history.changed;
  ask();
}

/** @param {string} name @returns {HTMLButtonElement} */
const button = (name) => get(`[data-do="${name}"]`);

listen(view, {
  begin(target, at) {
    if (!last || rule) return false;
    const point = target.closest(".point[tabindex]");
    if (point) /** @type {SVGElement} */ (point).focus();
    if (!point && !(target.getAttribute("data-line"))) return false;
    hold = takeHold(state, target, at, last.outline.boundaries);
    return hold !== "";
  },
  move(at) {
    put(state, hold, at);
    overlay.point(hold, hold.split(":")[1], at, true);
    overlay.look(at);
    ask(true);
  },
  end(at, cancelled) {
    overlay.look(null);
    if (!cancelled) put(state, hold, at);
    hold = "";
    if (cancelled) state = history.now;
    cancelled ? refresh() : done();
  },
  tap(at) {
    if (rule) return tapRule(at);
    if (!chosen.value || !last) return;
    const id = pin(state, chosen.value, at, last.outline.boundaries.find((/** @type {any} */ one) => one.name === chosen.value));
    put(state, id, at);
    done();
  },
});

/** @param {Point} at */
function tapRule(at) {
  const taps = /** @type {Point[]} */ (rule);
  taps.push(at);
  if (taps.length < 2) return say("Now the second point on the rule.");
  rule = null;
  const length = /** @type {HTMLInputElement} */ (get("#length")).value.replace(",", ".");
  scale(`points=${taps.flat().map((one) => one.toFixed(1)).join(",")},${length}`);
}

/** @param {string} typed */
function scale(typed) {
  state.scale = typed;
  say("The scale is being worked out.");
  done();
}

function toWeld() {
  const box = /** @type {SVGGElement} */ (overlay.outline).getBBox();
  const marks = last?.outline.landmarks.map((/** @type {any} */ one) => one.point) ?? [];
  const face = last?.outline.boundaries.filter((/** @type {any} */ one) => /weld_face|fusion/.test(one.name)).flatMap((/** @type {any} */ one) => one.points) ?? [];
  const points = [...marks, ...face];
  if (!points.length || !box.width) return whole();
  const xs = points.map((one) => one[0]);
  const ys = points.map((one) => one[1]);
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = 0.2 * Math.max(right - left, bottom - top);
  view.fit({ left: left - room, top: top - room, right: right + room, bottom: bottom + room });
}

const whole = () => view.fit({ left: 0, top: 0, right: start.width, bottom: start.height });
/** @param {number} times */
const middle = (times) => view.zoom(times, stage.clientWidth / 2, stage.clientHeight / 2);

function hide() {
  const bare = stage.classList.toggle("bare");
  button("hide").setAttribute("aria-pressed", String(bare));
  button("hide").textContent = bare ? "Show lines (H)" : "Hide lines (H)";
}

async function save() {
  button("save").disabled = true;
  say("The picture is read with your marks and kept. This takes a few seconds.");
  try {
    await post(`/api/reading/${start.code}/save`, { ...history.now, edition: start.edition });
    location.assign(`/reading/${start.code}`);
  } catch (trouble) {
    button("save").disabled = false;
    say(trouble instanceof Error ? trouble.message : String(trouble), true);
  }
}

/** @type {Record<string, () => void>} */
const verbs = {
  in: () => middle(1.4), out: () => middle(1 / 1.4), weld: toWeld, all: whole, hide,
  undo: () => { history.go(-1); refresh(); },
  redo: () => { history.go(1); refresh(); },
  start: () => { history.add(structuredClone(history.steps[0])); refresh(); },
  drop: () => { if (focused) { drop(state, focused); focused = ""; button("drop").disabled = true; done(); } },
  save: () => void save(),
};
for (const [name, verb] of Object.entries(verbs)) button(name).addEventListener("click", verb);

overlay.points.addEventListener("focusin", (event) => {
  focused = /** @type {Element} */ (event.target).getAttribute("data-id") ?? "";
  button("drop").disabled = !(focused.split(":")[1] in state.marks);
});

/** @type {Record<string, Point>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

stage.addEventListener("keydown", (event) => {
  const id = /** @type {Element} */ (event.target).getAttribute("data-id");
  const way = ARROWS[event.key];
  if (way) {
    event.preventDefault();
    const far = event.shiftKey ? 10 : 1;
    if (!id) return view.pan(-way[0] * 40, -way[1] * 40);
    const [x, y] = spot(id);
    put(state, id, [x + far * way[0], y + far * way[1]]);
    overlay.point(id, "", spot(id), true);
    done();
  } else if (event.key === "Delete" && id) verbs.drop();
  else if (event.key === "+") middle(1.2);
  else if (event.key === "-") middle(1 / 1.2);
});

document.addEventListener("keydown", (event) => {
  const typing = /** @type {Element} */ (event.target).matches("input, select, textarea");
  const key = event.key.toLowerCase();
  if (typing) return;
  if (key === "h" && !event.ctrlKey && !event.metaKey) hide();
  if (!(event.ctrlKey || event.metaKey)) return;
  if (key === "z" && !event.shiftKey) verbs.undo();
  else if (key === "y" || key === "z") verbs.redo();
  else return;
  event.preventDefault();
});

for (const one of document.querySelectorAll("[data-dim]"))
  one.addEventListener("click", () => {
    const name = one.getAttribute("data-dim") ?? "";
    picked = picked === name ? "" : name;
    for (const other of document.querySelectorAll("[data-dim]"))
      other.setAttribute("aria-pressed", String(other.getAttribute("data-dim") === picked));
    overlay.show(last?.lines[picked]);
    if (picked && last && !last.lines[picked]) say("This one is not measured along a line that can be drawn.");
  });

/** @param {string} where @param {() => void} what */
const onSubmit = (where, what) => get(where).addEventListener("submit", (event) => { event.preventDefault(); what(); });
onSubmit("#scale-points", () => {
  if (!/^\s*\d*[.,]?\d+\s*$/.test(/** @type {HTMLInputElement} */ (get("#length")).value)) return say("Type the length between the two points first, in mm.", true);
  rule = [];
  say("Tap the first point on the rule.");
});
onSubmit("#scale-rule", () => scale("rule"));
onSubmit("#scale-thick", () => scale(`thickness_${/** @type {HTMLSelectElement} */ (get("#member")).value}=${/** @type {HTMLInputElement} */ (get("#thick")).value.trim().replace(",", ".")}`));

ask();
