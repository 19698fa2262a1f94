import { cleanText } from '../../facts/clean-text.ts';
import { outOfFilesRemedy } from '../../facts/out-of-files.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { Failure } from './failure.ts';
import { type SnmpTarget, snmpPortDefault } from './target.ts';

/** What is known beside the failure when nothing could be read. */
export interface Silence {
  /** Datagrams that came from the agent. */
  readonly heard: number;
  /** Of these, how many were no SNMP message. */
  readonly garbled: number;
  /** Something of what came belonged to a request of ours. */
  readonly matched: boolean;
}

/** The trouble of a node that gave nothing, from the request that failed. */
export function troubleOf(failure: Failure, target: SnmpTarget, silence: Silence): Trouble {
  const at = `${target.address} port ${target.port ?? snmpPortDefault}`;
  const who = target.version === '3' ? `user "${cleanText(target.user, 40)}"` : 'the community';
  switch (failure.kind) {
    case 'timeout':
    case 'over':
      return silent(target, at, silence);
    case 'user-unknown':
      return {
        kind: 'user-unknown',
        seen: `the agent at ${at} does not know ${who}`,
        remedy: 'check the user name, or create this user on the node with read access only',
      };
    case 'auth-wrong':
      return {
        kind: 'auth-wrong',
        seen: `the agent at ${at} ${failure.words} for ${who}`,
        remedy: 'check the secret and the protocol of auth against those of the node',
      };
    case 'privacy-wrong':
      return {
        kind: 'auth-wrong',
        seen: `the agent at ${at} ${failure.words} for ${who}`,
        remedy: 'check the secret and the protocol of privacy against those of the node',
      };
    case 'level-too-low':
      return {
        kind: 'level-too-low',
        seen: `the agent at ${at} ${failure.words} for ${who}`,
        remedy: 'give auth and privacy as the node wants them, or allow this user to read there',
      };
    case 'clock':
      return {
        kind: 'clock-lost',
        seen: `the agent at ${at} ${failure.words}, twice`,
        remedy: 'look whether the node restarts again and again, or shares its engine identifier',
      };
    case 'unsendable':
      return {
        kind: 'no-route',
        seen: `nothing could be sent to ${at}: ${failure.words}`,
        remedy: 'check the address, and the route of this machine to it',
      };
    case 'files-spent':
      return {
        kind: 'files-spent',
        seen: `nothing was sent to ${at}: ${failure.words}`,
        remedy: outOfFilesRemedy,
      };
    default:
      return {
        kind: 'garbled',
        seen: `the agent at ${at} ${failure.words}`,
        remedy: 'check that an SNMP agent answers at this port, and restart it if it does',
      };
  }
}

function silent(target: SnmpTarget, at: string, silence: Silence): Trouble {
  const { heard, garbled, matched } = silence;
  if (heard > 0 && heard === garbled) {
    return {
      kind: 'garbled',
      seen: `what answers at ${at} does not speak SNMP`,
      remedy: 'check the port: something else answers there',
    };
  }
  if (heard > 0 && !matched) {
    return {
      kind: 'garbled',
      seen: `what answers at ${at} sends SNMP that belongs to no request of ours`,
      remedy: 'check the address and the port, and whether something between changes replies',
    };
  }
  if (target.version === '2c') {
    return {
      kind: 'silent',
      seen: `no answer from ${at}`,
      remedy:
        'check that the node is up and its agent on; a wrong community, an access list that leaves this machine out, and replies from another address all look the same',
    };
  }
  if (heard === 0) {
    return {
      kind: 'silent',
      seen: `no answer to the discovery of SNMPv3 from ${at}`,
      remedy:
        'check that the node is up and its agent on; discovery needs no user, so look at access lists and the port, not at secrets',
    };
  }
  const what = `the agent at ${at} answered discovery but not the request`;
  if (target.privacy === undefined) {
    return {
      kind: 'silent',
      seen: what,
      remedy: 'check the context and the access list of the node, and whether datagrams are lost',
    };
  }
  return {
    kind: 'privacy-silent',
    seen: what,
    remedy: 'check the secret and the protocol of privacy: a wrong one is answered with silence',
  };
}
