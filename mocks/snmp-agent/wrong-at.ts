import snmp from 'net-snmp';
import type { ResponsePdu } from './message-codec.ts';
import type { Vice, WrongReply } from './vices.ts';

const { Integer, OctetString } = snmp.ObjectType;
/** RFC 3416, 3. */
const genErr = 5;

/** Says for each datagram what its agent does wrong with it; undefined: nothing. */
export function wrongReplies(vice: Vice | undefined): (datagram: Buffer) => WrongReply | undefined {
  if (typeof vice !== 'object' || !('wrongAt' in vice)) return () => undefined;
  const { wrongAt, how } = vice;
  const seen = new Map<string, number>();
  return (datagram) => {
    const key = datagram.toString('base64');
    const number = seen.get(key) ?? seen.size;
    seen.set(key, number);
    const struck = how === 'gone' ? number >= wrongAt : number === wrongAt;
    return struck ? how : undefined;
  };
}

/** Spoils the values of a response before it is encoded. */
export function spoilResponse(response: ResponsePdu, how: WrongReply | undefined): void {
  if (how === 'refused') {
    response.errorStatus = genErr;
    response.varbinds = [];
  }
  if (how !== 'wrong-type') return;
  response.varbinds = response.varbinds.map(({ oid, type }) =>
    type === OctetString
      ? { oid, type: Integer, value: 7 }
      : { oid, type: OctetString, value: 'many' },
  );
}

/** Spoils an encoded reply. */
export function spoilReply(reply: Buffer, how: WrongReply | undefined): Buffer {
  if (how === 'cut') return reply.subarray(0, reply.length >> 1);
  if (how !== 'garbage') return reply;
  return Buffer.from(Array.from({ length: 200 }, (_, at) => (at * 167 + 13) % 256));
}
