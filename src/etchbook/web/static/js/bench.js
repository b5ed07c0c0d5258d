// Small helps that pages work without: plus and minus, timers, a job's progress.
for (const box of document.querySelectorAll("[data-job]")) import("./job.js").then((m) => m.watch(box));
for (const box of document.querySelectorAll(".stepper")) import("./stepper.js").then((m) => m.begin(box));
for (const box of document.querySelectorAll("[data-seconds]")) import("./timer.js").then((m) => m.begin(box));
for (const form of document.querySelectorAll("form[method=post]")) {
  form.addEventListener("submit", (event) => {
    // A second tap while the first is under way would log the bead twice.
    if (form.dataset.sent) event.preventDefault();
    form.dataset.sent = "yes";
  });
}
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});
