/** Numbers of a dotted OID; undefined for what is none. */
export function oidNumbers(oid: string): readonly number[] | undefined {
  if (!/^\d{1,10}(\.\d{1,10}){0,127}$/.test(oid)) return undefined;
  return oid.split('.').map(Number);
}

/** Whether `after` comes strictly after `before` in the order of a MIB. */
export function oidFollows(before: readonly number[], after: readonly number[]): boolean {
  for (let i = 0; i < after.length; i += 1) {
    const number = after[i] ?? 0;
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

/** Octets that an OID takes in BER, without tag and length (ITU-T X.690, 8.19). */
export function oidBytes(numbers: readonly number[]): number {
  return 1 + arcBytes(numbers.slice(2));
}

/** Octets of numbers that stand after the first two of an OID (ITU-T X.690, 8.19). */
export function arcBytes(numbers: readonly number[]): number {
  let bytes = numbers.length;
  for (const number of numbers)
    for (let left = number; left >= 128; left = Math.floor(left / 128)) bytes += 1;
  return bytes;
}
