import type { AdviceContext } from '../../../src/change/advice/types.ts';
import { lineOf } from '../../../src/change/asked-line.ts';
import type { ChangeStep } from '../../../src/change/types.ts';

/** Replacements for a sample; `undefined` leaves a key out. */
export type Given<T> = { readonly [K in keyof T]?: T[K] | undefined };

function replaced<T extends object>(sample: T, given: Given<T>): T {
  const entries = Object.entries({ ...sample, ...given });
  return Object.fromEntries(entries.filter(([, value]) => value !== undefined)) as T;
}

/** A step of the Saltmarsh survey office; `given` replaces what a case is about. */
export function step(given: Given<ChangeStep> = {}): ChangeStep {
  const sample: ChangeStep = {
    id: 'mtu vault:eth4',
    node: 'vault',
    port: 'vault:eth4',
    setting: 'mtu',
    from: 1500,
    to: 9000,
    disturbs: 'link-bounce',
    place: { file: 'storage.yaml', line: 3, column: 5 },
    after: [],
  };
  const made = replaced(sample, given);
  const line = made.line ?? lineOf(made.setting, made.to);
  return line === undefined ? made : { ...made, line };
}

/** What was read of vault, a Linux host, and its port eth4. */
export function context(given: Given<AdviceContext> = {}): AdviceContext {
  const sample: AdviceContext = {
    systemKind: 'linux',
    osVersion: '12',
    portName: 'eth4',
    port: { kind: 'physical', permanentMacAddress: '02:00:5e:00:00:41', mtuBytes: 1500 },
    lowerPorts: [],
    carriesWayIn: false,
  };
  return replaced(sample, given);
}
