import type { Asked } from '../../src/change/asked.ts';
import { loadChange } from '../../src/change/load-change.ts';
import { type PlannedChange, planChange } from '../../src/change/plan-change.ts';
import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Survey } from '../../src/facts/survey.ts';
import type { Intent } from '../../src/intent/types.ts';
import { type IntentSketch, makeIntent, makeSurvey } from '../site/builders.ts';

const none = { addresses: [] };
const physical = { mtuMinBytes: 68, mtuMaxBytes: 9702 };

export interface TwoSwitchesSketch {
  /** MTU of hosts before; that of switches is the frame. */
  readonly hosts: number;
  readonly switches: number;
  readonly declared: number;
  readonly eth4?: PortReadFacts;
  readonly tap0?: PortReadFacts;
  readonly phone?: PortReadFacts;
  readonly intent?: Partial<IntentSketch>;
}

/**
 * plot-1 - quay-sw - loft-sw - vault with a bond, and store with a VLAN interface below a bridge;
 * a gateway and a Wi-Fi client are in the segment as well.
 */
export function twoSwitches(sketch: TwoSwitchesSketch): { intent: Intent; survey: Survey } {
  const { hosts, switches, declared } = sketch;
  const untagged = { untagged: 'storage', speedMbps: 10_000 };
  const intent = makeIntent({
    segments: { storage: { vlan: 20, mtuBytes: declared } },
    links: {
      'plot-1:en7 - quay-sw:xg2': untagged,
      'quay-sw:xg8 - loft-sw:xg1': { tagged: ['storage'], speedMbps: 10_000 },
      'loft-sw:xg3 - vault:eth4': { ...untagged, lag: 'vault-up' },
      'loft-sw:xg4 - vault:eth5': { ...untagged, lag: 'vault-up' },
      'loft-sw:xg5 - store:eno1': { tagged: ['storage'] },
      'quay-sw:xg7 - gate:em0': untagged,
      'quay-sw:xg6 - tablet:wlan0': untagged,
    },
    paths: {
      plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'] },
      copies: { from: ['store'], to: ['vault'], over: ['storage'] },
    },
    ...sketch.intent,
    nodes: {
      'plot-1': {},
      vault: { at: '198.18.20.2' },
      store: {},
      gate: { routes: true },
      tablet: {},
      'quay-sw': { mtuCounts: { port: 'header-fcs' }, believe: ['mtu'] },
      'loft-sw': { mtuCounts: { port: 'header-fcs' }, believe: ['mtu'] },
      ...sketch.intent?.nodes,
    },
  });
  const at = (mtuBytes: number, more: PortReadFacts = {}) => ({ mtuBytes, ...physical, ...more });
  const sw = { mtuBytes: switches };
  const system = { facts: { systemKind: 'linux' } };
  const survey = makeSurvey({
    'plot-1': { ...system, ports: { en7: at(hosts, { addresses: ['198.18.20.1/24'] }) } },
    vault: {
      ...system,
      ports: {
        eth4: at(hosts, { ...none, ...sketch.eth4 }),
        eth5: at(hosts, none),
        bond0: {
          kind: 'bond',
          mtuBytes: hosts,
          lowerPorts: ['eth4', 'eth5'],
          addresses: ['198.18.20.2/24'],
        },
      },
    },
    store: {
      ...system,
      ports: {
        eno1: at(hosts, none),
        'eno1.20': { kind: 'vlan', vlanId: 20, mtuBytes: hosts, lowerPorts: ['eno1'], ...none },
        tap0: { kind: 'virtual', mtuBytes: hosts, ...none, ...sketch.tap0 },
        br20: {
          kind: 'bridge',
          mtuBytes: hosts,
          lowerPorts: ['eno1.20', 'tap0'],
          addresses: ['198.18.20.3/24'],
        },
      },
    },
    gate: { ...system, ports: { em0: at(hosts, { addresses: ['198.18.20.254/24'] }) } },
    tablet: {
      ...system,
      ports: {
        wlan0: {
          kind: 'wireless',
          mtuBytes: Math.min(hosts, 1500),
          addresses: ['198.18.20.9/24'],
          ...sketch.phone,
        },
      },
    },
    'quay-sw': { ports: { xg2: sw, xg6: sw, xg7: sw, xg8: sw } },
    'loft-sw': { ports: { xg1: sw, xg3: sw, xg4: sw, xg5: sw } },
  });
  return { intent, survey };
}

/** A change file's text as what it asks for; fails with its faults. */
export function asked(text: string, intent: Intent): Asked {
  const loaded = loadChange(`change: 1\n${text}`, 'change.yaml', intent);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return loaded.value;
}

/** A change made out; fails with its faults. */
export function planned(text: string, intent: Intent, survey: Survey): PlannedChange {
  const made = planChange(intent, survey, asked(text, intent));
  if (!made.ok) throw new Error(JSON.stringify(made.faults));
  return made.value;
}
