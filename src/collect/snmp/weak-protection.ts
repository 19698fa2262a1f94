import type { SnmpAccess } from '../../intent/types.ts';

/**
 * What is weak about the way an agent is asked, in words for the operator; undefined for SNMPv3 with
 * SHA-2 and AES. HMAC-MD5-96 and CBC-DES are of RFC 3414; RFC 7860 has what replaces the first, RFC
 * 3826 the second (DES was withdrawn with FIPS 46-3 in 2005).
 */
export function weakProtection(access: SnmpAccess): string | undefined {
  if (access.version === '2c') {
    return 'weak: the community and all that is read cross the network in clear text; use SNMPv3';
  }
  const weak = [authWeakness(access.auth), privacyWeakness(access.privacy)].filter(
    (words) => words !== undefined,
  );
  return weak.length === 0 ? undefined : `weak: ${weak.join('; ')}`;
}

function authWeakness(auth: SnmpAccess['auth']): string | undefined {
  if (auth === undefined) return 'anybody may answer in the place of this agent; set auth';
  if (auth === 'md5') return 'MD5 is out of use; set auth: sha256 where the node has it';
  if (auth === 'sha') return 'SHA-1 is being given up; set auth: sha256 where the node has it';
  return undefined;
}

function privacyWeakness(privacy: SnmpAccess['privacy']): string | undefined {
  if (privacy === undefined)
    return 'all that is read crosses the network in clear text; set privacy';
  if (privacy === 'des')
    return 'DES has keys of 56 bits; set privacy: aes128 where the node has it';
  return undefined;
}
