// Small helps that pages work without: plus and minus, timers, a job's progress, the list under the search.
/** @param {ParentNode} part */
function begin(part) {
  for (const box of part.querySelectorAll("[data-job]")) import("./job.js").then((m) => m.watch(box));
  for (const box of part.querySelectorAll(".stepper")) import("./stepper.js").then((m) => m.begin(box));
  for (const box of part.querySelectorAll("[data-seconds]")) import("./timer.js").then((m) => m.begin(box));
  for (const box of part.querySelectorAll("[data-scan]")) import("./scan.js").then((m) => m.begin(box));
  for (const form of part.querySelectorAll("form[data-photo]")) import("./photo.js").then((m) => m.begin(form));
  for (const form of part.querySelectorAll("form[method=post]:not([hx-post]):not([data-again])")) {
    form.addEventListener("submit", (event) => {
      // A second tap while the first is under way would log the bead twice.
      if (form.dataset.sent) event.preventDefault();
      form.dataset.sent = "yes";
    });
  }
  for (const button of part.querySelectorAll("[data-print]")) button.addEventListener("click", () => print());
}
begin(document);
document.addEventListener("htmx:load", (event) => {
  if (event.detail.elt !== document.body) begin(event.detail.elt);
});
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});

const quick = document.querySelector("#quick");
addEventListener("keydown", (event) => {
  if (event.key === "Escape") quick?.replaceChildren();
});
document.addEventListener("click", (event) => {
  if (!event.target.closest("#quick, .seek")) quick?.replaceChildren();
});
