/** A timer that counts down the step's seconds and says when they are over. @param {HTMLElement} box */
export function begin(box) {
  const whole = Number(box.dataset.seconds);
  const button = document.createElement("button");
  button.type = "button";
  const idle = `Start ${whole} s`;
  button.textContent = idle;
  let running = 0;
  button.addEventListener("click", () => {
    if (running) {
      clearInterval(running);
      running = 0;
      button.textContent = idle;
      return;
    }
    const end = Date.now() + whole * 1000;
    running = setInterval(() => {
      const left = Math.ceil((end - Date.now()) / 1000);
      button.textContent = left > 0 ? `${left} s left, stop` : `${-left} s over, stop`;
      if (left === 0) navigator.vibrate?.(400);
    }, 200);
  });
  box.append(button);
}
