/** One object of a published MIB module that may be asked for. */
export interface SnmpObject {
  readonly mib: string;
  readonly name: string;
  /** Of a scalar with its `.0`; of a column without an index. */
  readonly oid: string;
  /** What one value of it takes in a reply, in bytes, before any was seen. */
  readonly bytesHint: number;
}

/** Bytes of a number with its OID in a reply. */
const numberBytes = 20;
/** Bytes of a 64-bit counter with its OID. */
export const counterBytes = 24;
/** Bytes of a short text with its OID. */
export const textBytes = 44;

/** An object of `mib`; `bytesHint` absent: that of a number. */
export function snmpObject(
  mib: string,
  name: string,
  oid: string,
  bytesHint: number = numberBytes,
): SnmpObject {
  return { mib, name, oid, bytesHint };
}

/** `IF-MIB ifMtu (1.3.6.1.2.1.2.2.1.4)`: the source of a fact. */
export function objectText(asked: SnmpObject): string {
  return `${asked.mib} ${asked.name} (${asked.oid})`;
}
