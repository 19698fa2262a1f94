import snmp from 'net-snmp';
import { cleanText } from '../../facts/clean-text.ts';
import type { Gap } from '../../facts/gap.ts';
import type { Varbind } from './agent-session.ts';

/** A value, or why there is none. */
export type Read<T> =
  | { readonly value: T; readonly gap?: never }
  | { readonly gap: Gap; readonly value?: never };

const numberTypes: readonly (number | undefined)[] = [
  snmp.ObjectType.Integer,
  snmp.ObjectType.Gauge,
  snmp.ObjectType.Counter,
  snmp.ObjectType.TimeTicks,
];
/** Octets of a Counter64 in BER: eight, and one zero before a set first bit. */
const counter64BytesMax = 9;

/** An integer within `[min, max]`; `what` names the object. Some agents mix up integer types. */
export function integerOf(
  varbind: Varbind,
  what: string,
  [min, max]: readonly [number, number],
): Read<number> {
  const { value } = varbind;
  if (!numberTypes.includes(varbind.type) || typeof value !== 'number') return odd(varbind, what);
  if (!Number.isInteger(value) || value < min || value > max) return odd(varbind, what);
  return { value };
}

/** A counter of 32 or 64 bits as a number; beyond 2^53 its last digits are rounded. */
export function counterOf(varbind: Varbind, what: string): Read<number> {
  const { value } = varbind;
  if (varbind.type !== snmp.ObjectType.Counter64) {
    return integerOf(varbind, what, [0, 4_294_967_295]);
  }
  if (!Buffer.isBuffer(value) || value.length > counter64BytesMax) return odd(varbind, what);
  const counted = BigInt(`0x${value.toString('hex') || '0'}`);
  if (counted > 0xffff_ffff_ffff_ffffn) return odd(varbind, what);
  return { value: Number(counted) };
}

/** Text of an OctetString, made safe; may be empty. */
export function textOf(varbind: Varbind, what: string): Read<string> {
  const bytes = bytesOf(varbind);
  if (bytes === undefined) return odd(varbind, what);
  return { value: cleanText(new TextDecoder().decode(bytes)) };
}

/** Octets as they came; absent where there are none. */
export function octetsOf(varbind: Varbind, what: string): Read<Uint8Array> {
  const bytes = bytesOf(varbind);
  if (bytes === undefined) return odd(varbind, what);
  return bytes.length === 0 ? { gap: unsupported(`${what} is empty`) } : { value: bytes };
}

/** Octets as lower-case hexadecimal. */
export function hexOf(varbind: Varbind, what: string): Read<string> {
  const bytes = bytesOf(varbind);
  return bytes === undefined ? odd(varbind, what) : { value: bytes.toString('hex') };
}

/** A MAC address, lower case with colons; absent where the object is empty or all zero. */
export function macOf(varbind: Varbind, what: string): Read<string> {
  const bytes = bytesOf(varbind);
  if (bytes === undefined || (bytes.length !== 6 && bytes.length !== 0)) return odd(varbind, what);
  if (bytes.every((byte) => byte === 0)) return { gap: unsupported(`${what} is empty`) };
  return { value: bytes.toString('hex').replace(/..(?!$)/g, '$&:') };
}

/** The dotted text of an object identifier. */
export function identifierOf(varbind: Varbind, what: string): Read<string> {
  const { value } = varbind;
  const dotted = varbind.type === snmp.ObjectType.OID && typeof value === 'string';
  return dotted && /^\d+(\.\d+)+$/.test(value) ? { value: cleanText(value) } : odd(varbind, what);
}

/** The gap of an object that the agent does not have. */
export function unsupported(words: string): Gap {
  return { reason: 'unsupported', words };
}

function bytesOf(varbind: Varbind): Buffer | undefined {
  const { value } = varbind;
  return varbind.type === snmp.ObjectType.OctetString && Buffer.isBuffer(value) ? value : undefined;
}

/** A value of a type or range that the object cannot have. */
function odd(varbind: Varbind, what: string): { gap: Gap } {
  const value = Buffer.isBuffer(varbind.value)
    ? `${varbind.value.length} octets ${varbind.value.subarray(0, 16).toString('hex')}`
    : cleanText(String(varbind.value ?? 'nothing'), 40);
  const words = `${what} was ${value} of type ${Number(varbind.type)}`;
  return { gap: { reason: 'unreadable', words } };
}
