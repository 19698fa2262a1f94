/** Compares names as people count: `xg2` before `xg10`; equal only when the texts are equal. */
export function byName(a: string, b: string): number {
  const partsA = a.split(/(\d+)/);
  const partsB = b.split(/(\d+)/);
  for (let i = 0; i < Math.min(partsA.length, partsB.length); i += 1) {
    const order = comparePart(partsA[i] ?? '', partsB[i] ?? '', i % 2 === 1);
    if (order !== 0) return order;
  }
  return partsA.length - partsB.length || (a < b ? -1 : Number(a > b));
}

function comparePart(a: string, b: string, digits: boolean): number {
  if (a === b) return 0;
  if (!digits) return a < b ? -1 : 1;
  const trimmedA = a.replace(/^0+(?=\d)/, '');
  const trimmedB = b.replace(/^0+(?=\d)/, '');
  if (trimmedA.length !== trimmedB.length) return trimmedA.length - trimmedB.length;
  return trimmedA < trimmedB ? -1 : Number(trimmedA > trimmedB);
}
