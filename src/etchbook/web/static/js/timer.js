/** A timer that counts down the step's seconds, says when they are over, and writes down how long it ran.
 * @param {HTMLElement} box */
export function begin(box) {
  const whole = Number(box.dataset.seconds);
  const into = /** @type {HTMLInputElement | null} */ (document.getElementById(box.dataset.into ?? ""));
  const button = document.createElement("button");
  button.type = "button";
  const idle = whole < 120 ? `Start ${whole} s` : `Start ${Math.round(whole / 60)} min`;
  button.textContent = idle;
  let running = 0;
  let began = 0;
  button.addEventListener("click", () => {
    if (running) {
      clearInterval(running);
      running = 0;
      button.textContent = idle;
      if (into) into.value = `${Math.round((Date.now() - began) / 1000)} s`;
      return;
    }
    began = Date.now();
    running = setInterval(() => {
      if (!box.isConnected) return clearInterval(running);
      const left = Math.ceil(whole - (Date.now() - began) / 1000);
      button.textContent = left > 0 ? `${left} s left, stop` : `${-left} s over, stop`;
      if (left === 0) navigator.vibrate?.(400);
    }, 200);
  });
  box.append(button);
}
