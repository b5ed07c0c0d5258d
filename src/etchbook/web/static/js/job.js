/** Follow a job by server-sent events and go to what came of it. @param {HTMLElement} box */
export function watch(box) {
  const words = /** @type {HTMLElement} */ (box.querySelector("[data-step]"));
  const kept = /** @type {HTMLElement | null} */ (document.querySelector("[data-kept]"));
  const events = new EventSource(`/job/${box.dataset.job}/events`);
  events.addEventListener("step", (event) => {
    const told = JSON.parse(event.data);
    words.textContent = told.step;
    if (told.picture && kept) kept.hidden = false;
    if (["done", "refused", "stopped", "interrupted"].includes(told.state)) {
      events.close();
      location.reload();
    }
  });
}
