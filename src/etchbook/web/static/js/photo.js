/** Shows the photograph that was chosen, and how far it is on its way. @param {HTMLFormElement} form */
export function begin(form) {
  const shown = /** @type {HTMLImageElement} */ (form.querySelector(".chosen"));
  const bar = /** @type {HTMLProgressElement} */ (form.querySelector("progress"));
  const inputs = /** @type {HTMLInputElement[]} */ ([...form.querySelectorAll("input[type=file]")]);
  for (const input of inputs) {
    input.addEventListener("change", () => {
      for (const other of inputs) if (other !== input) other.value = "";
      const file = input.files?.[0];
      if (shown.src) URL.revokeObjectURL(shown.src);
      shown.hidden = !file;
      if (!file) return;
      shown.onerror = () => (shown.hidden = true); // HEIC and TIFF: the browser cannot show them, the bench can read them
      shown.src = URL.createObjectURL(file);
    });
  }
  form.addEventListener("htmx:xhr:progress", (event) => {
    const { loaded, total } = /** @type {CustomEvent} */ (event).detail;
    bar.hidden = false;
    if (total) bar.value = loaded / total;
  });
  form.addEventListener("htmx:afterRequest", () => (bar.hidden = true));
}
