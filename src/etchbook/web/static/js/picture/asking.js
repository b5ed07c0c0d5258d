// One question at a time on its way; of those that wait only the newest is asked.

/** @typedef {import("./history.js").State & {quick: boolean, edition: number}} Question */

export class Asking {
  /**
   * @param {string} code @param {(answer: any) => void} told @param {(words: string) => void} refused
   */
  constructor(code, told, refused) {
    this.code = code;
    this.told = told;
    this.refused = refused;
    this.busy = false;
    /** @type {Question | null} */
    this.next = null;
  }

  /** Have the bench get ready for a drag, so that the first one is as quick as the others.
   * @param {Question} question */
  warm(question) {
    post(`/api/reading/${this.code}/moved`, question).catch(() => {});
  }

  /** @param {Question} question */
  async ask(question) {
    this.next = question;
    if (this.busy) return;
    this.busy = true;
    while (this.next) {
      const asked = this.next;
      this.next = null;
      try {
        const answer = await post(`/api/reading/${this.code}/moved`, asked);
        const waiting = /** @type {Question | null} */ (this.next);
        if (!waiting || waiting.quick) this.told(answer);
      } catch (trouble) {
        if (!this.next) this.refused(trouble instanceof Error ? trouble.message : String(trouble));
      }
    }
    this.busy = false;
  }
}

/** Ask the bench for something. @param {string} where @returns {Promise<any>} */
export const ask = (where) => answered(where, {});

/** Hand the bench something. @param {string} where @param {unknown} what @returns {Promise<any>} */
export const post = (where, what) =>
  answered(where, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(what) });

/** @param {string} where @param {RequestInit} how @returns {Promise<any>} */
async function answered(where, how) {
  const token = document.querySelector("meta[name=token]")?.getAttribute("content") ?? "";
  let answer;
  try {
    answer = await fetch(where, { ...how, headers: { ...how.headers, "x-token": token } });
  } catch {
    throw new Error("The bench does not answer: see whether it still runs. Your marks are kept on this page.");
  }
  const good = answer.headers.get("x-token"); // the page was open in another session: sent once more, it is taken
  if (good) document.querySelector("meta[name=token]")?.setAttribute("content", good);
  const told = await answer.json().catch(() => ({ error: "the bench gave no proper answer" }));
  if (told.beside) location.assign(told.beside); // somebody saved meanwhile: there both stand side by side
  if (!answer.ok) throw new Error(told.error ?? "that was refused");
  return told;
}
