/** Host names ignore case (RFC 4343); a name without a domain stands for the same with one. */
export function sameName(a: string, b: string): boolean {
  const [x, y] = [a.toLowerCase(), b.toLowerCase()];
  return x === y || x.startsWith(`${y}.`) || y.startsWith(`${x}.`);
}
