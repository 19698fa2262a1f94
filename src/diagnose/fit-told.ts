import { bareAddress } from '../site/addresses.ts';
import type { Site, SitePath } from '../site/types.ts';
import type { FitReason, FitSeen, LossSeen } from './fit-seen.ts';

/** Why a size does not pass, where the sender or a router said so. */
export function toldReason(
  seen: FitSeen & { readonly loss: LossSeen },
  site: Site,
  path: SitePath,
): FitReason | undefined {
  const { from, loss, wantedBytes } = seen;
  const passes = loss.mtuBytes === undefined ? '' : `, which passes ${loss.mtuBytes} bytes`;
  switch (loss.by) {
    case 'interface': {
      const at = loss.device === undefined ? from : `${from}:${loss.device}`;
      return {
        kind: 'explains',
        at: [at],
        says: `${from} itself sends no packet of ${loss.bytes} bytes: its own interface ${at} is too small${passes.replace(', which', '; it')}`,
        remedy: `raise the MTU of ${at} to ${wantedBytes} or more, below its layers first; then run the fit again${readOtherwise(at, loss, path)}`,
      };
    }
    case 'route':
      return {
        kind: 'explains',
        at: [from],
        says: `a route of ${from} has an MTU of its own${passes}, though its interface takes more`,
        remedy: `see what set it on ${from} (ip route get ${seen.toAddress ?? ''}), and take it away`,
      };
    case 'learnt':
      return {
        kind: 'explains',
        at: [from],
        says: `${from} keeps a path MTU that a router told it earlier${passes}`,
        remedy: `it forgets that by itself within ten minutes; run the fit again then, and it names the router if it still says so`,
      };
    case 'router':
      return routerReason(seen, site, path);
    case 'silence':
      return undefined;
  }
}

/** The survey may have read more there: then it has changed since, or another port is meant. */
function readOtherwise(at: string, { bytes }: LossSeen, path: SitePath): string {
  const hop = path.hops.find(({ port }) => port.id === at);
  const read = hop?.port.survey?.facts.mtuBytes;
  if (read === undefined || read < bytes) return '';
  return `; the survey has ${read} bytes for it, so it has changed since`;
}

function routerReason(
  { to, loss, wantedBytes }: FitSeen & { readonly loss: LossSeen },
  site: Site,
  path: SitePath,
): FitReason {
  const address = loss.router ?? '';
  const node = ownerOf(address, site);
  const who = node === undefined ? `the router ${address}` : `the router ${node} (${address})`;
  const small = path.hops
    .filter(({ port, clearance: { atMostBytes: most } }) => {
      return port.node === node && most !== undefined && most < loss.bytes;
    })
    .map(({ port }) => port.id);
  const passes = loss.mtuBytes === undefined ? '' : `; it passes ${loss.mtuBytes} bytes`;
  const where = small.length > 0 ? small.join(', ') : `its port towards ${to}`;
  return {
    kind: 'explains',
    at: small.length > 0 ? small : node === undefined ? [] : [node],
    says: `${who} says that ${loss.bytes} bytes are too big${passes}`,
    remedy: `raise the MTU of ${where} so that ${wantedBytes} bytes pass; until then its word must reach the senders, so filter no ICMP there`,
  };
}

function ownerOf(address: string, { nodes }: Site): string | undefined {
  return nodes.find(
    ({ declared, survey }) =>
      declared.at === address ||
      survey?.ports.some(({ facts }) => facts.addresses?.map(bareAddress).includes(address)),
  )?.declared.name;
}
