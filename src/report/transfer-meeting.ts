import type { MissedMeeting } from '../probe/run-transfer.ts';

interface EndNames {
  readonly from: string;
  readonly to: string;
}

const whyWords: Readonly<Record<string, string>> = {
  refused: 'refused it at once: nothing listened there, or a firewall rejects',
  silent: 'gave no answer: a firewall on one of them drops it, or the address is not on the way',
  unreachable: 'is unreachable from there',
  forbidden: 'was forbidden to it by its own firewall',
  'no-address': 'is to be called from an address that the caller does not have',
  nobody: 'waited, and nobody came: a firewall on one of them drops it',
  reset: 'cut the connection',
  other: 'was not reached',
  bind: 'could not open a port on its address',
};

/** Why two ends did not meet, in words. */
export function meetingWords({ listener, why }: MissedMeeting, names: EndNames): string {
  const caller = names[listener === 'from' ? 'to' : 'from'];
  const words = Object.hasOwn(whyWords, why) ? whyWords[why] : `failed: ${why}`;
  return `with ${names[listener]} listening and ${caller} calling it did not begin: ${names[listener]} ${words}`;
}

/** What would help two ends to meet. */
export function meetingRemedy(missed: readonly MissedMeeting[], names: EndNames): string {
  const [first] = missed;
  if (first === undefined) return 'give one of them perl or python3';
  const sides = [...new Set(missed.map(({ listener }) => names[listener]))];
  return `let one of ${sides.join(' and ')} take TCP connections from the other to ports 32768 to 65535 in its firewall while you measure`;
}
