/** Compares names as people count: `xg2` before `xg10`; equal only when the texts are equal. */
export function byName(a: string, b: string): number {
  let [atA, atB] = [0, 0];
  while (atA < a.length && atB < b.length) {
    const [endA, endB] = [digitsEnd(a, atA), digitsEnd(b, atB)];
    if (endA > atA && endB > atB) {
      const order = byNumber(a.slice(atA, endA), b.slice(atB, endB));
      if (order !== 0) return order;
      [atA, atB] = [endA, endB];
    } else {
      // Words before a number come before the same with more letters: `eth0` before `eth-up`.
      if (endA > atA) return -1;
      if (endB > atB) return 1;
      const order = a.charCodeAt(atA) - b.charCodeAt(atB);
      if (order !== 0) return order;
      [atA, atB] = [atA + 1, atB + 1];
    }
  }
  return a.length - atA - (b.length - atB) || (a < b ? -1 : Number(a > b));
}

/** Where the digits end that begin at a place; that place, where none does. */
function digitsEnd(text: string, at: number): number {
  let end = at;
  while (isDigit(text.charCodeAt(end))) end += 1;
  return end;
}

function isDigit(unit: number): boolean {
  return unit >= 0x30 && unit <= 0x39;
}

/** As numbers of any length; equal with other zeros before them. */
function byNumber(a: string, b: string): number {
  if (a === b) return 0;
  const [plainA, plainB] = [a, b].map((digits) => digits.replace(/^0+(?=\d)/, ''));
  if (plainA === undefined || plainB === undefined || plainA === plainB) return 0;
  return plainA.length - plainB.length || (plainA < plainB ? -1 : 1);
}
