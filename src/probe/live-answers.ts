/** Largest answer of one look, in bytes: thirty ports with all that ethtool prints. */
export const answerBytesMax = 256 * 1024;

/** What was fed so far: whole answers, or more bytes than an answer may have. */
export type Answers =
  | { readonly ok: true; readonly whole: readonly Uint8Array[] }
  | { readonly ok: false };

/** Cuts a stream into answers, each up to and with the line of its end mark. */
export class AnswerStream {
  readonly #end: Buffer;
  #rest = Buffer.alloc(0);

  constructor(marker: string) {
    this.#end = Buffer.from(`\n${marker} end\n`);
  }

  /** Bytes of an answer that is not whole yet. */
  get pending(): Uint8Array {
    return this.#rest;
  }

  /** Takes bytes as they come, cut anywhere. */
  take(chunk: Uint8Array): Answers {
    const whole: Uint8Array[] = [];
    this.#rest = Buffer.concat([this.#rest, chunk]);
    for (;;) {
      const at = this.#rest.indexOf(this.#end);
      if (at < 0) break;
      const cut = at + this.#end.length;
      whole.push(this.#rest.subarray(0, cut));
      this.#rest = this.#rest.subarray(cut);
    }
    return this.#rest.length > answerBytesMax ? { ok: false } : { ok: true, whole };
  }
}
