/** Numbers of a dotted OID; undefined for what is none. */
export function oidNumbers(oid: string): readonly number[] | undefined {
  if (!/^\d{1,10}(\.\d{1,10}){0,127}$/.test(oid)) return undefined;
  return oid.split('.').map(Number);
}

/** Whether `next` comes strictly after `oid` in the order of a MIB; false for what is no OID. */
export function oidFollows(oid: string, next: string): boolean {
  const before = oidNumbers(oid);
  const after = oidNumbers(next);
  if (before === undefined || after === undefined) return false;
  for (const [i, number] of after.entries()) {
    const other = before[i];
    if (other === undefined || number > other) return true;
    if (number < other) return false;
  }
  return false;
}

/** What follows `column.` in `oid`; undefined when `oid` is not below `column`. */
export function oidIndex(column: string, oid: string): string | undefined {
  return oid.startsWith(`${column}.`) ? oid.slice(column.length + 1) : undefined;
}

/** Bytes that an OID takes in BER, without tag and length. */
export function oidBytes(oid: string): number {
  const numbers = oidNumbers(oid) ?? [];
  let bytes = 1;
  for (const number of numbers.slice(2)) bytes += Math.max(1, Math.ceil(Math.log2(number + 1) / 7));
  return bytes;
}
