import ssh2 from 'ssh2';

/** Keys made before giving up, at most: about one in 256 is faulty. */
const triesMax = 16;

/**
 * A fresh Ed25519 key pair in OpenSSH form. The library's generator drops zero bytes at the front
 * of a public key and then writes a file that nobody can read; such a pair is made anew.
 */
export function makeKeyPair(): { readonly private: string; readonly public: string } {
  for (let turn = 0; turn < triesMax; turn += 1) {
    const pair = ssh2.utils.generateKeyPairSync('ed25519');
    const parsed: unknown = ssh2.utils.parseKey(pair.private);
    if (!(parsed instanceof Error)) return pair;
  }
  throw new Error('no usable key pair was made');
}
