import { makeSecret } from '../../../src/collect/secrets/secret.ts';
import { readSnmp } from '../../../src/collect/snmp/read-snmp.ts';
import type { SnmpTarget } from '../../../src/collect/snmp/target.ts';
import { defaultReadLimits } from '../../../src/collect/types.ts';
import { everyTopic } from '../../../src/facts/read-topics.ts';
import { authProtocols, privacyProtocols } from '../../../src/intent/types.ts';
import { snmpSecrets } from './snmpd.ts';

// The SNMP reader as a program of its own, so that its sockets are those of the namespace it is
// started in: ADDRESS [USER AUTH PRIVACY]. Prints the outcome as JSON.
const [address = '', user, auth, privacy] = process.argv.slice(2);

function target(): SnmpTarget {
  if (user === undefined) {
    return { address, version: '2c', community: makeSecret(snmpSecrets.SALTMARSH_COMMUNITY) };
  }
  return {
    ...{ address, version: '3', user },
    auth: {
      protocol: authProtocols.find((each) => each === auth) ?? 'sha256',
      secret: makeSecret(snmpSecrets.SALTMARSH_AUTH),
    },
    privacy: {
      protocol: privacyProtocols.find((each) => each === privacy) ?? 'aes128',
      secret: makeSecret(snmpSecrets.SALTMARSH_PRIV),
    },
  };
}

const { signal } = new AbortController();
const outcome = await readSnmp(
  target(),
  { peers: [], topics: everyTopic },
  defaultReadLimits,
  signal,
);
process.stdout.write(`${JSON.stringify(outcome)}\n`);
