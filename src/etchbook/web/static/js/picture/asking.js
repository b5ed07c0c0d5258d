// One question at a time on its way; of those that wait only the newest is asked.

/** @typedef {import("./history.js").State & {quick: boolean}} Question */

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
        if (!this.next || this.next.quick) this.told(answer);
      } catch (trouble) {
        if (!this.next) this.refused(trouble instanceof Error ? trouble.message : String(trouble));
      }
    }
    this.busy = false;
  }
}

/** @param {string} where @param {unknown} what @returns {Promise<any>} */
export async function post(where, what) {
  const token = document.querySelector("meta[name=token]")?.getAttribute("content") ?? "";
  let answer;
  try {
    answer = await fetch(where, {
      method: "POST",
      headers: { "content-type": "application/json", "x-token": token },
      body: JSON.stringify(what),
    });
  } catch {
    throw new Error("the bench does not answer: see whether it still runs. Your marks are kept on this page");
  }
  const told = await answer.json().catch(() => ({ error: "the bench gave no proper answer" }));
  if (!answer.ok) throw new Error(told.error ?? "that was refused");
  return told;
}
