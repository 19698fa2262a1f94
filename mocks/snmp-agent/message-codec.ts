import { EventEmitter } from 'node:events';
import snmp from 'net-snmp';

// The library's agent answers GETBULK wrongly, so only its codec is used, which it does not
// export: this file gets at it, and gives it types.

/** A request as the codec reads it. */
export interface RequestPdu {
  readonly type: number;
  readonly varbinds: readonly { readonly oid: string }[];
  readonly nonRepeaters: number;
  readonly maxRepetitions: number;
  readonly contextName?: string;
  getResponsePduForRequest(): ResponsePdu;
}

export interface ResponsePdu {
  varbinds: { oid: string; type: number; value: unknown }[];
  errorStatus?: number;
  errorIndex?: number;
}

export interface EngineState {
  readonly engineID: Buffer;
  readonly engineBoots: number;
  readonly engineTime: number;
}

/** A message of any version. */
export interface CodecMessage {
  readonly version: number;
  readonly community?: string;
  user?: snmp.User;
  readonly pdu: RequestPdu;
  readonly msgSecurityParameters?: {
    readonly msgUserName: string;
    readonly msgAuthoritativeEngineID: Buffer;
    msgAuthoritativeEngineBoots: number;
    msgAuthoritativeEngineTime: number;
  };
  hasAuthentication(): unknown;
  hasPrivacy(): unknown;
  setAuthentication(flag: boolean): void;
  setPrivacy(flag: boolean): void;
  checkAuthentication(user: snmp.User, failed: () => void): boolean;
  decryptPdu(user: snmp.User, failed: () => void): boolean;
  createResponseForRequest(pdu: ResponsePdu): CodecMessage;
  createReportResponseMessage(engine: EngineState, context: string, type: string): CodecMessage;
  toBuffer(): Buffer;
}

interface Codec {
  createFromBuffer(buffer: Buffer): CodecMessage;
}

/** A v2c GET of nothing: the shortest message from which the codec's class can be had. */
const shortest = Buffer.from('3013020101040178a00b0201010201000201003000', 'hex');

function findCodec(): Codec {
  const inert = Object.assign(new EventEmitter(), { bind: () => {} });
  const agent: unknown = snmp.createAgent(
    { port: 1, dgramModule: { createSocket: () => inert } },
    () => {},
  );
  const { listener } = agent as { listener: { constructor: unknown } };
  const { processIncoming } = listener.constructor as {
    processIncoming(buffer: Buffer, authorizer: unknown, failed: () => void): CodecMessage;
  };
  const authorizer = { users: [], communities: [], disableAuthorization: true };
  return processIncoming(shortest, authorizer, () => {}).constructor as unknown as Codec;
}

const codec = findCodec();

/** Reads a datagram; throws for what is no SNMP message. */
export function readMessage(datagram: Buffer): CodecMessage {
  return codec.createFromBuffer(datagram);
}
