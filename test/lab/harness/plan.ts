/** What the lab is to look like; pure data. */
export interface PlanNode {
  readonly name: string;
  readonly kind: 'host' | 'switch' | 'router';
  /** Last number of its addresses. */
  readonly number: number;
  /** Addressed data ports: port and the third number of the IPv4 network (198.18.N.0/24). */
  readonly data: Readonly<Record<string, number>>;
  /** Default gateway of the data networks. */
  readonly gateway?: string;
  /** Ports of the bridge `br0`, which then has the address of the host. */
  readonly bridged: readonly string[];
}

export type PlanEnd = readonly [node: string, port: string];
export type PlanLink = readonly [PlanEnd, PlanEnd];

export interface Plan {
  readonly nodes: readonly PlanNode[];
  readonly links: readonly PlanLink[];
  /** Ports that spanning tree blocks while everything is up (IEEE 802.1D-2004 17.6). */
  readonly blocked: readonly PlanEnd[];
}

export interface PlanOptions {
  /** A second cable between the two switches; spanning tree blocks one. */
  readonly secondWay?: boolean;
  /** A third switch, `cove`, as another way between the two. */
  readonly thirdSwitch?: boolean;
  /** Hosts that have their address on a bridge `br0` over `eth0`. */
  readonly hostBridgeOn?: readonly string[];
  /** A router, `gate`, with one more host, `attic`, behind it. */
  readonly router?: boolean;
}

export const managementNet = '198.18.1';
export const managementNet6 = '2001:2:0:1:';
export const storageNet = 20;
export const atticNet = 30;
export const auditorNumber = 2;
/** What the lab is set to between cases. */
export const hostMtuBytes = 9000;
export const switchMtuBytes = 9216;

/** plot - quay - loft - vault, with what the options add. */
export function planFor(options: PlanOptions = {}): Plan {
  const host = (name: string, number: number): PlanNode => {
    const bridged = options.hostBridgeOn?.includes(name) === true;
    return {
      ...{ name, kind: 'host', number },
      data: { [bridged ? 'br0' : 'eth0']: storageNet },
      bridged: bridged ? ['eth0'] : [],
      ...(options.router === true && { gateway: `198.18.${storageNet}.21` }),
    };
  };
  const bridge = (name: string, number: number, bridged: readonly string[]): PlanNode => ({
    ...{ name, kind: 'switch', number, data: {}, bridged },
  });
  const links: PlanLink[] = [
    [
      ['plot', 'eth0'],
      ['quay', 'xg1'],
    ],
    [
      ['quay', 'xg8'],
      ['loft', 'xg8'],
    ],
    [
      ['vault', 'eth0'],
      ['loft', 'xg1'],
    ],
  ];
  if (options.secondWay === true)
    links.push([
      ['quay', 'xg9'],
      ['loft', 'xg9'],
    ]);
  if (options.thirdSwitch === true) {
    links.push(
      [
        ['quay', 'xg10'],
        ['cove', 'xg1'],
      ],
      [
        ['cove', 'xg2'],
        ['loft', 'xg10'],
      ],
    );
  }
  if (options.router === true) {
    links.push(
      [
        ['gate', 'eth0'],
        ['loft', 'xg5'],
      ],
      [
        ['gate', 'eth1'],
        ['attic', 'eth0'],
      ],
    );
  }
  const portsOf = (node: string) =>
    links.flat().flatMap(([owner, port]) => (owner === node ? [port] : []));
  const nodes: PlanNode[] = [
    host('plot', 11),
    host('vault', 12),
    bridge('quay', 31, portsOf('quay')),
    bridge('loft', 32, portsOf('loft')),
  ];
  if (options.thirdSwitch === true) nodes.push(bridge('cove', 33, portsOf('cove')));
  if (options.router === true) {
    nodes.push({
      ...{ name: 'gate', kind: 'router', number: 21, bridged: [] },
      data: { eth0: storageNet, eth1: atticNet },
    });
    nodes.push({
      ...{ name: 'attic', kind: 'host', number: 13, bridged: [] },
      ...{ data: { eth0: atticNet }, gateway: `198.18.${atticNet}.21` },
    });
  }
  const blocked: PlanEnd[] = [];
  // Of two cables to the root the one at the root's lower port wins.
  if (options.secondWay === true) blocked.push(['loft', 'xg9']);
  // Two bridges at equal cost: the lower one keeps the cable between them.
  if (options.thirdSwitch === true) blocked.push(['cove', 'xg2']);
  return { nodes, links, blocked };
}

export function managementAddress(node: { readonly number: number }): string {
  return `${managementNet}.${node.number}`;
}

export function managementAddress6(node: { readonly number: number }): string {
  return `${managementNet6}:${node.number}`;
}

/** The first data address of a host. */
export function dataAddress(node: PlanNode): string {
  const [net] = Object.values(node.data);
  if (net === undefined) throw new Error(`lab: ${node.name} has no data address`);
  return `198.18.${net}.${node.number}`;
}

/** `02:00:5e:00:<node>:<port>`, so that an intent can declare it. */
export function macOf(plan: Plan, [name, port]: PlanEnd): string {
  const node = plan.nodes.find((each) => each.name === name);
  const index = plan.links.flat().findIndex(([n, p]) => n === name && p === port);
  const hex = (value: number) => value.toString(16).padStart(2, '0');
  return `02:00:5e:00:${hex(node?.number ?? 0)}:${hex(index + 1)}`;
}
