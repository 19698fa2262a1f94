import { isIP } from 'node:net';
import snmp from 'net-snmp';
import { shareKeyWork } from './key-work.ts';
import { type LineEvents, sharedDgram } from './shared-socket.ts';
import {
  backoffDefault,
  replyTimeoutMsDefault,
  retriesDefault,
  type SnmpTarget,
  snmpPortDefault,
  type UserTarget,
} from './target.ts';

/** One object of a reply, as the library gives it. */
export type Varbind = snmp.Varbind;
type Done<T> = (error: unknown, value?: T) => void;

/** The part of a library session that reads. Writing is not in this type, so nobody can. */
export interface ReadingSession {
  retries: number;
  get(oids: string[], done: Done<Varbind[]>): unknown;
  getNext(oids: string[], done: Done<Varbind[]>): unknown;
  getBulk(
    oids: string[],
    nonRepeaters: number,
    repetitions: number,
    done: Done<(Varbind | Varbind[])[]>,
  ): unknown;
  close(): unknown;
  /** The engine of the agent is known (RFC 3414, 4); always false without users. */
  discovered(): boolean;
}

const authNumbers = {
  md5: snmp.AuthProtocols.md5,
  sha: snmp.AuthProtocols.sha,
  sha224: snmp.AuthProtocols.sha224,
  sha256: snmp.AuthProtocols.sha256,
  sha384: snmp.AuthProtocols.sha384,
  sha512: snmp.AuthProtocols.sha512,
} as const;

const privacyNumbers = {
  des: snmp.PrivProtocols.des,
  aes128: snmp.PrivProtocols.aes,
  aes256: snmp.PrivProtocols.aes256r,
  'aes256-blumenthal': snmp.PrivProtocols.aes256b,
} as const;

/** Opens a session with an agent. Throws only for a target that `targetFault` finds fault with. */
export function openSession(target: SnmpTarget, events: LineEvents): ReadingSession {
  const port = target.port ?? snmpPortDefault;
  if (target.version === '3') shareKeyWork();
  const options = {
    port,
    transport: isIP(target.address) === 6 ? ('udp6' as const) : ('udp4' as const),
    timeout: target.timing?.replyTimeoutMs ?? replyTimeoutMsDefault,
    retries: target.timing?.retries ?? retriesDefault,
    backoff: target.timing?.backoff ?? backoffDefault,
    dgramModule: sharedDgram({ address: target.address, port }, events),
  };
  const session =
    target.version === '2c'
      ? snmp.createSession(target.address, target.community.reveal(), {
          ...options,
          version: snmp.Version2c,
        })
      : snmp.createV3Session(target.address, userOf(target), {
          ...options,
          version: snmp.Version3,
          ...(target.context === undefined ? {} : { context: target.context }),
        });
  session.on('error', () => events.unreadable());
  refuseUnprotected(session, target);
  const discovered = () => 'msgSecurityParameters' in session;
  return Object.assign(session as unknown as ReadingSession, { discovered });
}

/**
 * The library takes an unsigned or unencrypted reply to a protected request; RFC 3414, 3.2 wants
 * the level of the reply to be that of the request.
 */
function refuseUnprotected(session: snmp.Session, target: SnmpTarget): void {
  if (target.version === '2c') return;
  const take = session.onSimpleGetResponse;
  session.onSimpleGetResponse = (request, message) => {
    const signed = target.auth === undefined || message.hasAuthentication();
    const sealed = target.privacy === undefined || message.hasPrivacy();
    if (signed && sealed) take.call(request, request, message);
    else request.responseCb(unprotectedReply());
  };
}

function unprotectedReply() {
  return Object.assign(new Error(), {
    name: 'RequestInvalidError' as const,
    code: 'EUNPROTECTED',
  });
}

function userOf(target: UserTarget): snmp.User {
  const { user: name, auth, privacy } = target;
  if (auth === undefined) return { name, level: snmp.SecurityLevel.noAuthNoPriv };
  const signed = {
    name,
    authProtocol: authNumbers[auth.protocol],
    authKey: auth.secret.reveal(),
  };
  if (privacy === undefined) return { ...signed, level: snmp.SecurityLevel.authNoPriv };
  return {
    ...signed,
    level: snmp.SecurityLevel.authPriv,
    privProtocol: privacyNumbers[privacy.protocol],
    privKey: privacy.secret.reveal(),
  };
}
