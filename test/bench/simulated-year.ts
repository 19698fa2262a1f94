import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { NeighbourReading, NodeSurvey, PortSurvey, Survey } from '../../src/facts/survey.ts';
import type { Intent } from '../../src/intent/types.ts';

const switchCount = 200;
const portsPerSwitch = 50;
/** Facts that somebody changes, each night, each on a port of its own. */
const changesPerNight = 20;
/** Ports that count errors, each night. */
const erringPorts = 20;

/** A site that lives from night to night; its surveys are made one after another. */
export interface Year {
  readonly intent: Intent;
  readonly portCount: number;
  readonly changesPerNight: number;
  /** Node and port of every port. */
  readonly portNames: readonly (readonly [node: string, port: string])[];
  /** Lets a day pass and reads the whole site. */
  readonly nextNight: () => Survey;
}

/**
 * Two hundred switches of fifty ports, as an SNMP reading with all topics gives them. Every counter
 * and every light level moves each night, as they do; twenty settings change.
 */
export function makeYear(): Year {
  const random = makeRandom();
  const switches = Array.from({ length: switchCount }, (_, at) => firstState(at, random));
  const ports = switches.flatMap(({ node, ports: own }) =>
    own.map(({ name }) => [node, name] as const),
  );
  let night = -1;
  return {
    intent: intentOf(switches.map(({ node }) => node)),
    portCount: ports.length,
    changesPerNight,
    portNames: ports,
    nextNight: () => {
      night += 1;
      for (const each of switches) count(each, random);
      if (night > 0) {
        alter(switches, random);
        err(switches, random);
      }
      return surveyOf(switches, night);
    },
  };
}

interface State {
  readonly node: string;
  readonly ports: { readonly name: string; facts: PortReadFacts }[];
  readonly neighbours: readonly NeighbourReading[];
}

function firstState(at: number, random: () => number): State {
  const node = `sw-${at}`;
  return {
    node,
    ports: Array.from({ length: portsPerSwitch }, (_, port) => ({
      name: `p${port}`,
      facts: firstFacts(at, port, random),
    })),
    neighbours: Array.from({ length: portsPerSwitch }, (_, port) => neighbourAt(at, port)),
  };
}

function firstFacts(at: number, port: number, random: () => number): PortReadFacts {
  return {
    ifIndex: 1000 + port,
    alias: `to host-${at}-${port}, row ${port % 7}`,
    kind: 'physical',
    adminUp: true,
    operUp: random() > 0.1,
    mtuBytes: 9216,
    speedMbps: 10_000,
    duplex: 'full',
    autoNegotiation: true,
    advertisedModes: ['1000baseT/Full', '2500baseT/Full', '5000baseT/Full', '10000baseT/Full'],
    macAddress: `02:00:5e:${hex(at)}:${hex(port)}:01`,
    untaggedVlan: 20 + (port % 4),
    taggedVlans: [30, 40],
    spanningTree: 'forwarding',
    rxFrames: Math.floor(random() * 1e12),
    txFrames: Math.floor(random() * 1e12),
    rxOctets: Math.floor(random() * 1e15),
    txOctets: Math.floor(random() * 1e15),
    rxErrors: 0,
    txErrors: 0,
    rxCrcErrors: 0,
    rxAlignmentErrors: 0,
    rxTooLong: 0,
    rxDropped: Math.floor(random() * 1e5),
    txDropped: Math.floor(random() * 1e5),
    rxPowerDbm: -3,
    txPowerDbm: -2,
    moduleTemperatureCelsius: 41,
  };
}

function neighbourAt(at: number, port: number): NeighbourReading {
  return {
    port: `p${port}`,
    chassis: `02:00:5e:${hex(at)}:${hex(port)}:02`,
    chassisKind: 'mac',
    portId: 'eth0',
    portIdKind: 'name',
    systemName: `host-${at}-${port}`,
    capabilities: ['station'],
    addresses: [`198.18.${at % 200}.${port}`],
  };
}

/** A day of traffic. */
function count({ ports }: State, random: () => number): void {
  for (const port of ports) {
    const { facts } = port;
    const frames = Math.floor(random() * 1e9);
    port.facts = {
      ...facts,
      rxFrames: (facts.rxFrames ?? 0) + frames,
      txFrames: (facts.txFrames ?? 0) + Math.floor(random() * 1e9),
      rxOctets: (facts.rxOctets ?? 0) + frames * 700 + Math.floor(random() * 700),
      txOctets: (facts.txOctets ?? 0) + Math.floor(random() * 1e12),
      rxDropped: (facts.rxDropped ?? 0) + Math.floor(random() * 50),
      txDropped: (facts.txDropped ?? 0) + Math.floor(random() * 50),
      rxPowerDbm: Math.round((-3 + random()) * 100) / 100,
      txPowerDbm: Math.round((-2 + random()) * 100) / 100,
      moduleTemperatureCelsius: Math.round((41 + random() * 4) * 10) / 10,
    };
  }
}

/** Settings that somebody changed: a port each, so that each is one change. */
function alter(switches: readonly State[], random: () => number): void {
  for (const port of somePorts(switches, changesPerNight, random)) {
    const { facts } = port;
    const choice = Math.floor(random() * 4);
    if (choice === 0) port.facts = { ...facts, mtuBytes: facts.mtuBytes === 9216 ? 1500 : 9216 };
    if (choice === 1)
      port.facts = { ...facts, speedMbps: facts.speedMbps === 1000 ? 10_000 : 1000 };
    if (choice === 2) port.facts = { ...facts, operUp: facts.operUp !== true };
    if (choice === 3) port.facts = { ...facts, untaggedVlan: (facts.untaggedVlan ?? 20) + 1 };
  }
}

function err(switches: readonly State[], random: () => number): void {
  for (const port of somePorts(switches, erringPorts, random)) {
    const { facts } = port;
    port.facts = { ...facts, rxCrcErrors: (facts.rxCrcErrors ?? 0) + 1 + Math.floor(random() * 9) };
  }
}

function somePorts(switches: readonly State[], many: number, random: () => number) {
  const chosen = new Set<State['ports'][number]>();
  // A port that comes up twice is drawn again; there are far more ports than are drawn.
  while (chosen.size < many) {
    const ports = switches[Math.floor(random() * switches.length)]?.ports ?? [];
    const port = ports[Math.floor(random() * ports.length)];
    if (port !== undefined) chosen.add(port);
  }
  return chosen;
}

function surveyOf(switches: readonly State[], night: number): Survey {
  const startMs = Date.UTC(2026, 0, 1, 2) + night * 86_400_000;
  const startedAt = new Date(startMs).toISOString();
  return {
    survey: 1,
    site: 'Saltmarsh survey office',
    startedAt,
    endedAt: new Date(startMs + 40_000).toISOString(),
    nodes: switches.map((each) => nodeOf(each, startedAt, night)),
  };
}

function nodeOf({ node, ports, neighbours }: State, startedAt: string, night: number): NodeSurvey {
  return {
    node,
    readings: [{ by: 'snmp', at: '198.18.0.2', startedAt, tookMs: 900 }],
    facts: {
      systemName: node,
      systemText: 'simulated switch of fifty ports',
      uptimeSeconds: (night + 100) * 86_400,
      engineId: `80001f88${node}`,
    },
    sources: { systemName: 'SNMPv2-MIB sysName' },
    gaps: {},
    portSources: { mtuBytes: 'IF-MIB ifMtu', speedMbps: 'IF-MIB ifHighSpeed' },
    portGaps: {},
    ports: ports.map(({ name, facts }): PortSurvey => ({ name, facts })),
    routes: [],
    sessions: [],
    mounts: [],
    neighbours,
    disagreements: [],
  };
}

function intentOf(names: readonly string[]): Intent {
  return {
    intent: 1,
    site: 'Saltmarsh survey office',
    files: [],
    nodes: names.map((name, line) => ({
      name,
      place: { file: 'hopgauge.yaml', line, column: 1 },
      at: `${name}.office.example`,
      access: [],
      role: 'switch',
      sleeps: false,
      mayBeAbsent: false,
      routes: false,
      mtuCounts: {},
      believe: [],
      identity: {},
      ports: [],
    })),
    segments: [],
    links: [],
    paths: [],
    policies: [],
    waivers: [],
  };
}

function hex(value: number): string {
  return (value & 0xff).toString(16).padStart(2, '0');
}

/** Numbers below 1 that look random and are the same in every run (a linear congruence). */
function makeRandom(): () => number {
  let state = 20_261;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}
