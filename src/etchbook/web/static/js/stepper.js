/** Plus and minus beside a field; the unit that was typed stays. @param {HTMLElement} box */
export function begin(box) {
  const input = /** @type {HTMLInputElement} */ (box.querySelector("input"));
  for (const [sign, words] of [[-1, "−"], [1, "+"]]) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = String(words);
    button.setAttribute("aria-label", `${sign === 1 ? "more" : "less"} ${box.dataset.label ?? ""}`);
    button.addEventListener("click", () => step(input, Number(sign)));
    if (sign === 1) box.append(button);
    else box.prepend(button);
  }
}

/** One step in the last place that was typed. @param {HTMLInputElement} input @param {number} sign */
function step(input, sign) {
  const found = /-?\d+(?:[.,](\d+))?/.exec(input.value);
  if (!found) return input.focus();
  const places = found[1]?.length ?? 0;
  const comma = found[0].includes(",");
  const scaled = Math.round(Number(found[0].replace(",", ".")) * 10 ** places) + sign;
  const digits = String(Math.abs(scaled)).padStart(places + 1, "0");
  const whole = places ? `${digits.slice(0, -places)}${comma ? "," : "."}${digits.slice(-places)}` : digits;
  input.value = input.value.replace(found[0], (scaled < 0 ? "-" : "") + whole);
  input.dispatchEvent(new Event("input", { bubbles: true }));
}
