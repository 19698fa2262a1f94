import type { SitePort } from './types.ts';

/** Where to raise the MTU for a port: in its stack, or itself where its node does not tell. */
export function raisedAt({ id, subject }: SitePort): string {
  const port = subject.facts['portToRaise'];
  return typeof port === 'string' ? port : id;
}
