import type { Site, SitePath, SitePort } from '../../site/types.ts';
import type { CauseDraft, SeenFact } from '../cause.ts';

type Facts = SitePort['subject']['facts'];

/** What one hop says against the declared packet; undefined: nothing. */
type HopRule = (facts: Facts, path: SitePath) => CauseDraft | undefined;

/** `hopgauge fit a b`, which settles what facts leave open. */
function fitOf({ from, to }: SitePath): string {
  return `hopgauge fit ${from} ${to}`;
}

function seen(...texts: readonly string[]): readonly SeenFact[] {
  return texts.map((says) => ({ says }));
}

const device: HopRule = (facts, path) => {
  const byMaximum = facts['canDeclaredMtu'] === false;
  if (!byMaximum && facts['driverAllowsMtu'] !== false) return undefined;
  const most = String(byMaximum ? facts['mtuMaxBytes'] : facts['driverMtuBytes']);
  const wanted = String(facts['declaredMtuBytes']);
  const id = String(facts['portToRaise'] ?? facts['id']);
  return {
    kind: 'device-maximum',
    proof: 'is',
    what: `the driver of ${id}: it allows ${most} of the declared ${wanted} bytes`,
    for: seen(
      `${id} allows packets of ${most} bytes`,
      byMaximum ? 'that is the most that its driver accepts' : 'that is a setting of its driver',
    ),
    remedy: byMaximum
      ? 'use another adapter or driver, or declare a packet that it can'
      : "raise the setting for large frames in the driver's properties",
    settledBy: fitOf(path),
  };
};

const wireless: HopRule = (facts, path) => {
  if (facts['wireless'] !== true || Number(facts['declaredMtuBytes'] ?? 0) <= 2304)
    return undefined;
  return {
    kind: 'wireless',
    proof: 'is',
    what: `${String(facts['id'])} is wireless: no setting gives it ${String(facts['declaredMtuBytes'])} bytes`,
    for: [
      { says: `${String(facts['id'])} is wireless` },
      { says: 'wireless links carry 2304 bytes at most', source: 'IEEE 802.11' },
    ],
    remedy: 'give wireless clients a segment of 1500 bytes of their own',
    settledBy: fitOf(path),
  };
};

const slowPort: HopRule = (facts, path) => {
  if (facts['speedTakesLarge'] !== false) return undefined;
  const id = String(facts['id']);
  return {
    kind: 'slow-port',
    proof: 'likely',
    what: `${id} runs at 100 Mb/s or less, where many switches drop packets above 1500 bytes`,
    for: seen(`${id} runs at ${String(facts['speedMbps'])} Mb/s`, 'the declared packet is larger'),
    remedy: 'bring the link to 1 Gb/s, or give what is behind it a segment of 1500 bytes',
    settledBy: fitOf(path),
  };
};

const tagRoom: HopRule = (facts, path) => {
  if (facts['tagHasRoom'] !== false) return undefined;
  const parent = String(facts['parentPort'] ?? facts['id']);
  return {
    kind: 'tag-room',
    proof: 'check',
    what: `${parent} may have no room for the 4 bytes of the VLAN tag`,
    for: seen(
      `${String(facts['id'])} has an MTU of ${String(facts['mtuBytes'])} bytes`,
      `the driver of ${parent} accepts no more than that`,
    ),
    remedy: 'lower the VLAN interface by 4, or use an adapter that can more',
    settledBy: fitOf(path),
  };
};

const tunnelRoom: HopRule = (facts, path) => {
  const { tunnelNeedsBytes: needs, underlayMtuBytes: has } = facts;
  if (typeof needs !== 'number' || typeof has !== 'number' || has >= needs) return undefined;
  const parent = String(facts['parentPort']);
  return {
    kind: 'tunnel-room',
    proof: 'is',
    what: `the packet size at ${parent}: the tunnel ${String(facts['id'])} needs ${needs} bytes there and has ${has}`,
    for: seen(
      `${parent} has an MTU of ${has} bytes`,
      `${String(facts['id'])} adds ${String(facts['tunnelOverheadBytes'])} bytes to each packet`,
    ),
    remedy: `raise ${parent} and every hop that the tunnel crosses to ${needs}, or lower the tunnel`,
    settledBy: fitOf(path),
  };
};

const bridgeMember: HopRule = (facts, path) => {
  const { smallMembers: small } = facts;
  if (!Array.isArray(small) || small.length === 0 || facts['carriesDeclaredMtu'] !== false) {
    return undefined;
  }
  const id = String(facts['id']);
  const members = small.join(' and ');
  return {
    kind: 'bridge-member',
    proof: 'is',
    what: `the packet size at ${members}: it draws the bridge ${id} down to ${String(facts['passesAtMostBytes'])} bytes`,
    for: seen(
      `${members} has a smaller MTU than the declared ${String(facts['declaredMtuBytes'])} bytes`,
      `${id} passes at most ${String(facts['passesAtMostBytes'])} bytes`,
    ),
    remedy: `raise ${members}, or the machine or container behind it`,
    settledBy: fitOf(path),
  };
};

const hopRules = [device, wireless, slowPort, tagRoom, tunnelRoom, bridgeMember] as const;

/** What single hops of a path say against the declared packet beyond their MTU; each once. */
export function hopPacket(_site: Site, path: SitePath): readonly CauseDraft[] {
  const ports = new Map(path.hops.map(({ port }) => [port.id, port.subject.facts]));
  return [...ports.values()].flatMap((facts) =>
    hopRules.flatMap((rule) => rule(facts, path) ?? []),
  );
}
