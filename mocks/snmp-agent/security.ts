import snmp from 'net-snmp';
import type { AuthProtocol, PrivacyProtocol } from '../../src/intent/types.ts';
import type { CodecMessage, EngineState } from './message-codec.ts';

/** A user of a simulated agent. */
export interface AgentUser {
  readonly name: string;
  readonly auth?: { readonly protocol: AuthProtocol; readonly secret: string };
  readonly privacy?: { readonly protocol: PrivacyProtocol; readonly secret: string };
}

/** Types of the reports of RFC 3414, 3.2, as the last number of their objects. */
const report = { level: '1', time: '2', user: '3', engine: '4', digest: '5' } as const;
const ignore = () => {};

const privacyNumbers = {
  des: snmp.PrivProtocols.des,
  aes128: snmp.PrivProtocols.aes,
  aes256: snmp.PrivProtocols.aes256r,
  'aes256-blumenthal': snmp.PrivProtocols.aes256b,
} as const;

/** What is to be done with a v3 message: answer it, report, or stay silent. */
export type Admission = 'answer' | 'silent' | { readonly report: CodecMessage };

/** Admits a v3 message as real agents do (RFC 3414, 3.2). */
export function admit(
  message: CodecMessage,
  users: readonly AgentUser[],
  { engine, inTime }: { readonly engine: EngineState; readonly inTime: () => boolean },
): Admission {
  const reportOf = (type: string) => ({
    report: message.createReportResponseMessage(engine, '', type),
  });
  const security = message.msgSecurityParameters;
  if (security === undefined || !security.msgAuthoritativeEngineID.equals(engine.engineID)) {
    return reportOf(report.engine);
  }
  const user = users.find(({ name }) => name === security.msgUserName);
  if (user === undefined) return reportOf(report.user);
  const { auth, privacy } = user;
  if ((auth === undefined && message.hasAuthentication()) || (!privacy && message.hasPrivacy())) {
    return reportOf(report.level);
  }
  message.user = codecUser(user, message);
  // The digest comes before the cipher (RFC 3414, 3.2, steps 6 and 8), unlike in the library.
  const signed = !message.hasAuthentication() || message.checkAuthentication(message.user, ignore);
  if (!signed) return reportOf(report.digest);
  // What cannot be decrypted is met with silence by the most used agent (measured).
  if (message.hasPrivacy() && !message.decryptPdu(message.user, ignore)) return 'silent';
  if (message.hasAuthentication() && !inTime()) return reportOf(report.time);
  security.msgAuthoritativeEngineBoots = engine.engineBoots;
  security.msgAuthoritativeEngineTime = engine.engineTime;
  return 'answer';
}

/** Whether the message is protected as well as its user has to be (RFC 3415). */
export function levelSuffices(message: CodecMessage, users: readonly AgentUser[]): boolean {
  const user = users.find(({ name }) => name === message.msgSecurityParameters?.msgUserName);
  const signed = user?.auth === undefined || message.hasAuthentication();
  return Boolean(signed && (user?.privacy === undefined || message.hasPrivacy()));
}

/** The user at the level at which the message came, so that the answer has the same. */
function codecUser({ name, auth, privacy }: AgentUser, message: CodecMessage): snmp.User {
  const { SecurityLevel } = snmp;
  if (auth === undefined || !message.hasAuthentication()) {
    return { name, level: SecurityLevel.noAuthNoPriv };
  }
  const signed = { name, authProtocol: snmp.AuthProtocols[auth.protocol], authKey: auth.secret };
  if (privacy === undefined || !message.hasPrivacy()) {
    return { ...signed, level: SecurityLevel.authNoPriv };
  }
  return {
    ...signed,
    level: SecurityLevel.authPriv,
    privProtocol: privacyNumbers[privacy.protocol],
    privKey: privacy.secret,
  };
}
