// The picture page: the photograph, the marks on it, and the numbers that come back from the bench.
import { Asking, ask as fetched, post } from "./asking.js";
import { Blink } from "./blink.js";
import { button, field, get } from "./drawn.js";
import { listen } from "./fingers.js";
import { History } from "./history.js";
import { keys } from "./keys.js";
import { drop, pin, put, takeHold } from "./marking.js";
import { Overlay, words } from "./overlay.js";
import { Scaling } from "./scaling.js";
import { changes, doubts, otherwise, rows, say } from "./telling.js";
import { View } from "./view.js";

/** @typedef {import("./history.js").Point} Point */

const bench = get("#bench");
const start = JSON.parse(bench.dataset.start ?? "{}");
const stage = /** @type {SVGSVGElement} */ (document.querySelector("#stage"));
const view = new View(stage, start);
const overlay = new Overlay(view);
const blink = new Blink(view);
const history = new History({ marks: start.marks, scale: "" });
const scaling = new Scaling(overlay, (typed) => {
  state.scale = typed;
  say("The scale is being worked out.");
  done();
});
const chosen = /** @type {HTMLSelectElement} */ (document.querySelector("#pin"));
let state = history.now;
let hold = "";
let focused = "";
let picked = "";
/** @type {any} */
let last = null;

const asking = new Asking(start.code, show, (text) => say(text, true));
/** @param {boolean} [quick] */
const ask = (quick = false) => void asking.ask({ ...structuredClone(state), quick, edition: start.edition });

/** @param {any} answer */
function show(answer) {
  const fresh = last === null;
  last = answer;
  overlay.draw(answer.outline);
  overlay.pins(state.marks);
  if (hold && hold !== WIPE) overlay.point(hold, "", spot(hold), true);
  rows(answer.rows, hold !== "");
  showPicked();
  const ticked = answer.outline.boundaries.some((/** @type {any} */ one) => one.unclear.length);
  doubts(answer.doubts, ticked, ([left, top, right, bottom]) => view.fit(roomy(left, top, right, bottom)));
  get("#scale-words").textContent = answer.scale;
  if (!scaling.taps) say(answer.asked || (history.changed || hold ? changes(answer.rows, picked) : otherwise(answer.rows)), Boolean(answer.asked));
  if (fresh) begin(answer);
}

/** @param {any} answer */
function begin(answer) {
  for (const one of answer.outline.boundaries)
    if (overlay.outline.querySelector(`[data-line="${one.name}"]`)) chosen.add(new Option(words(one.name), one.name));
  if (chosen.length === 1)
    for (const name of ["weld_face", "fusion_line_1"]) chosen.add(new Option(words(name), name));
  toWeld();
  asking.warm({ ...structuredClone(state), quick: true, edition: start.edition });
  bench.dataset.ready = "yes";
}

function showPicked() {
  const row = last?.rows.find((/** @type {any} */ one) => one.id === picked);
  overlay.show(last?.lines[picked], row?.words ?? "");
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
  scaling.show(state.scale);
  button("undo").disabled = history.at === 0;
  button("start").disabled = !history.changed;
  button("redo").disabled = history.at === history.steps.length - 1;
  button("save").disabled = !history.changed;
  ask();
}

const WIPE = "wipe";

listen(view, {
  begin(target, at) {
    if (target.closest(".wipe-grip")) return Boolean((hold = WIPE));
    if (!last || scaling.taps) return false;
    const point = target.closest(".point[tabindex]");
    if (point) /** @type {SVGElement} */ (point).focus();
    if (!point && !target.getAttribute("data-line")) return false;
    hold = takeHold(state, target, at, last.outline.boundaries);
    return hold !== "";
  },
  move(at) {
    if (hold === WIPE) return blink.show((at[0] * view.k + view.x) / stage.clientWidth);
    put(state, hold, at);
    overlay.point(hold, hold.split(":")[1], at, true);
    overlay.look(at);
    ask(true);
  },
  end(at, cancelled) {
    overlay.look(null);
    const wiped = hold === WIPE;
    if (!cancelled && !wiped) put(state, hold, at);
    hold = "";
    if (wiped) return;
    if (cancelled) state = history.now;
    cancelled ? refresh() : done();
  },
  tap(at) {
    if (scaling.tap(at) || !chosen.value || !last) return;
    const along = last.outline.boundaries.find((/** @type {any} */ one) => one.name === chosen.value);
    put(state, pin(state, chosen.value, at, along), at);
    done();
  },
});

/** @param {number} left @param {number} top @param {number} right @param {number} bottom */
function roomy(left, top, right, bottom) {
  const room = 0.2 * Math.max(right - left, bottom - top, 60);
  return { left: left - room, top: top - room, right: right + room, bottom: bottom + room };
}

function toWeld() {
  const marks = last?.outline.landmarks.map((/** @type {any} */ one) => one.point) ?? [];
  const face = last?.outline.boundaries.filter((/** @type {any} */ one) => /weld_face|fusion/.test(one.name)).flatMap((/** @type {any} */ one) => one.points) ?? [];
  const points = [...marks, ...face];
  if (!points.length) return whole();
  const xs = points.map((one) => one[0]);
  const ys = points.map((one) => one[1]);
  view.fit(roomy(Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)));
}

const whole = () => view.fit({ left: 0, top: 0, right: start.width, bottom: start.height });
/** @param {number} times */
const middle = (times) => view.zoom(times, stage.clientWidth / 2, stage.clientHeight / 2);

function hide() {
  const bare = stage.classList.toggle("bare");
  button("hide").setAttribute("aria-pressed", String(bare));
  button("hide").textContent = bare ? "Show lines (H)" : "Hide lines (H)";
}

function turn() {
  blink.turn();
  button("blink").setAttribute("aria-pressed", String(blink.share < 1));
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

/** Lay another picture of the face under this one, or take it away again. @param {Element} asked */
async function lay(asked) {
  const before = asked.getAttribute("aria-pressed") === "true";
  const code = asked.getAttribute("data-other") ?? "";
  const said = get("#register-words");
  for (const one of document.querySelectorAll("[data-other]")) one.setAttribute("aria-pressed", "false");
  get("#uncover").hidden = button("blink").hidden = true;
  blink.lay(null);
  if (before) return;
  say(`${code} is being laid on ${start.picture}. This takes a few seconds.`);
  try {
    const under = await fetched(`/api/reading/${start.code}/under/${code}`);
    blink.lay(under);
    asked.setAttribute("aria-pressed", "true");
    button("blink").setAttribute("aria-pressed", "true");
    get("#uncover").hidden = button("blink").hidden = false;
    said.textContent = under.words;
    say(`${code} lies under it in register. B switches between the two, the grip wipes.`);
  } catch (trouble) {
    say(trouble instanceof Error ? trouble.message : String(trouble), true);
  }
}

/** @type {Record<string, () => void>} */
const verbs = {
  in: () => middle(1.4), out: () => middle(1 / 1.4), weld: toWeld, all: whole, hide, blink: turn,
  undo: () => { history.go(-1); refresh(); },
  redo: () => { history.go(1); refresh(); },
  start: () => { history.add(structuredClone(history.steps[0])); refresh(); },
  drop: () => { if (focused) { drop(state, focused); focused = ""; button("drop").disabled = true; done(); } },
  save: () => void save(),
  sheet: () => button("sheet").setAttribute("aria-expanded", String(bench.classList.toggle("with-sheet"))),
};
for (const [name, verb] of Object.entries(verbs)) button(name).addEventListener("click", verb);

overlay.points.addEventListener("focusin", (event) => {
  focused = /** @type {Element} */ (event.target).getAttribute("data-id") ?? "";
  button("drop").disabled = !(focused.split(":")[1] in state.marks);
});

keys(stage, verbs, middle, (id, dx, dy) => {
  if (!id) return view.pan(-dx * 40, -dy * 40);
  const [x, y] = spot(id);
  put(state, id, [x + dx, y + dy]);
  overlay.point(id, "", spot(id), true);
  done();
});

for (const one of document.querySelectorAll("[data-dim]"))
  one.addEventListener("click", () => {
    const name = one.getAttribute("data-dim") ?? "";
    picked = picked === name ? "" : name;
    for (const other of document.querySelectorAll("[data-dim]"))
      other.setAttribute("aria-pressed", String(other.getAttribute("data-dim") === picked));
    showPicked();
    if (picked && last && !last.lines[picked]) say("This one is not measured along a line that can be drawn.");
  });
for (const one of document.querySelectorAll("[data-other]")) one.addEventListener("click", () => void lay(one));
if (start.others.length) field("#share").addEventListener("input", () => blink.show(Number(field("#share").value) / 100));

ask();
