// Small helps that pages work without: plus and minus, timers, a job's progress, the list under the search.

/** All of a kind within a part of the page. @param {ParentNode} part @param {string} which
 * @returns {NodeListOf<HTMLElement>} */
const all = (part, which) => part.querySelectorAll(which);

/** @param {ParentNode} part */
function begin(part) {
  for (const box of all(part, "[data-job]")) import("./job.js").then((m) => m.watch(box));
  for (const box of all(part, ".stepper")) import("./stepper.js").then((m) => m.begin(box));
  for (const box of all(part, "[data-seconds]")) import("./timer.js").then((m) => m.begin(box));
  for (const box of all(part, "[data-scan]")) import("./scan.js").then((m) => m.begin(box));
  for (const form of all(part, "form[data-photo]")) {
    import("./photo.js").then((m) => m.begin(/** @type {HTMLFormElement} */ (form)));
  }
  for (const form of all(part, "form[method=post]:not([hx-post]):not([data-again])")) {
    form.addEventListener("submit", (event) => {
      // A second tap while the first is under way would log the bead twice; papers (data-again) may be taken again.
      if (form.dataset.sent) event.preventDefault();
      form.dataset.sent = "yes";
    });
  }
}

begin(document);
document.addEventListener("htmx:load", (event) => {
  const part = /** @type {CustomEvent} */ (event).detail.elt;
  if (part === document.body) return;
  begin(part);
  // What was pressed is gone: whoever works by keyboard goes on at what came instead, or at the next step.
  const next = part.matches(".ticks > li") ? part.parentElement.querySelector("input[type=checkbox]:enabled") : part;
  (next?.matches("input") ? next : next?.querySelector("[data-focus]"))?.focus({ preventScroll: true });
});
document.addEventListener("htmx:afterRequest", (event) => {
  // The page was open in another session: with this session's token what was chosen can be sent once more.
  const token = /** @type {CustomEvent} */ (event).detail.xhr?.getResponseHeader("x-token");
  if (!token) return;
  document.querySelector("meta[name=token]")?.setAttribute("content", token);
  for (const one of all(document, "input[name=token]")) one.setAttribute("value", token);
});
addEventListener("pageshow", () => {
  for (const form of all(document, "form[data-sent]")) delete form.dataset.sent;
});

// On paper nothing can be opened: cautions and what was weighed are printed, the meaning of each word is not.
addEventListener("beforeprint", () => {
  for (const one of all(document, "main details:not([open], .means)")) {
    if (one.querySelector("input, select")) continue;
    one.dataset.printed = "yes";
    one.setAttribute("open", "");
  }
});
addEventListener("afterprint", () => {
  for (const one of all(document, "[data-printed]")) {
    delete one.dataset.printed;
    one.removeAttribute("open");
  }
});

const quick = document.querySelector("#quick");
addEventListener("keydown", (event) => {
  if (event.key === "Escape") quick?.replaceChildren();
});
document.addEventListener("click", (event) => {
  if (!(event.target instanceof Element && event.target.closest("#quick, .seek"))) quick?.replaceChildren();
});
