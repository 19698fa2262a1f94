/** The text of which a report gives pieces. */
export function whole(pieces: Iterable<string>): string {
  return [...pieces].join('');
}
