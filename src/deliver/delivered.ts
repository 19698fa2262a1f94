/** What became of a delivery; `reason` is one line for the operator, without a secret. */
export type Delivered = { readonly ok: true } | { readonly ok: false; readonly reason: string };

const words: Readonly<Record<string, string>> = {
  ECONNREFUSED: 'refused: nothing listens there',
  ECONNRESET: 'the other side closed the connection',
  EHOSTUNREACH: 'no route to it',
  ENETUNREACH: 'no route to it',
  ENOENT: 'the program is not installed',
  EPIPE: 'the other side closed the connection',
  ETIMEDOUT: 'no answer',
};

/** The words for a fault of the network or of the system. */
export function reasonOf(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return words[code] ?? `failed (${code || 'error'})`;
}
