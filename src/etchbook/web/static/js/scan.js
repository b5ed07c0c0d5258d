/** Reads a label with the phone's camera where the browser can, and goes to what it names. @param {HTMLElement} box */
export async function begin(box) {
  const said = /** @type {HTMLElement} */ (box.querySelector("[data-said]"));
  const video = /** @type {HTMLVideoElement} */ (box.querySelector("video"));
  const Detector = /** @type {any} */ (globalThis).BarcodeDetector;
  if (!Detector || !navigator.mediaDevices?.getUserMedia) {
    said.textContent = "This browser cannot read labels by itself here. Type the code that stands beside the squares.";
    return;
  }
  const button = document.createElement("button");
  button.type = "button";
  button.className = "first";
  button.textContent = "Open the camera";
  said.textContent = "Hold the label into the picture, a hand's width away.";
  box.append(button);
  button.addEventListener("click", () => look(new Detector({ formats: ["qr_code", "data_matrix"] }), video, said, button));
}

/** @param {any} detector @param {HTMLVideoElement} video @param {HTMLElement} said @param {HTMLElement} button */
async function look(detector, video, said, button) {
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    said.textContent = "The camera was not opened. Allow it for this page, or type the code.";
    return;
  }
  button.remove();
  video.hidden = false;
  video.srcObject = stream;
  await video.play();
  while (video.srcObject) {
    const found = await detector.detect(video).catch(() => []);
    if (found.length) {
      for (const track of stream.getTracks()) track.stop();
      said.textContent = `Read: ${found[0].rawValue}`;
      location.assign(`/find?q=${encodeURIComponent(found[0].rawValue)}`);
      return;
    }
    await new Promise((next) => setTimeout(next, 150));
  }
}
