import { describe, expect, it } from 'vitest';
import { createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { loadExpression } from '../../src/judge/load-expression.ts';
import { subjectOf } from './subject-of.ts';

const cel = await createCelEnvironment();
const gap = { reason: 'denied', words: 'no' } as const;
const port = subjectOf(
  'port',
  { operUp: true, adminUp: false, mtuBytes: 9000, addresses: ['a', 'b'] },
  { duplex: gap, speedMbps: gap },
);

const cases: readonly (readonly [text: string, facts: string, needs: string])[] = [
  ['port.operUp', 'operUp', ''],
  ['port.speedMbps > 1', 'speedMbps', 'speedMbps'],
  // A side that is not needed is no evidence.
  ['port.adminUp && port.operUp', 'adminUp', ''],
  ['port.operUp && port.adminUp', 'operUp adminUp', ''],
  ['port.operUp || port.speedMbps > 1', 'operUp', ''],
  // An unknown side that the other made immaterial is none either.
  ['port.speedMbps > 1 && port.adminUp', 'adminUp', ''],
  ['port.speedMbps > 1 || port.operUp', 'operUp', ''],
  ['(port.speedMbps > 1 || port.operUp) && port.duplex == "full"', 'operUp duplex', 'duplex'],
  // Both unknown: both are needed, and both are named.
  ['port.speedMbps > 1 && port.duplex == "full"', 'speedMbps duplex', 'speedMbps duplex'],
  ['port.speedMbps == port.mtuMaxBytes', 'speedMbps mtuMaxBytes', 'speedMbps mtuMaxBytes'],
  ['port.operUp ? port.mtuBytes > 1 : port.speedMbps > 1', 'operUp mtuBytes', ''],
  ['port.speedMbps > 1 ? true : true', 'speedMbps', 'speedMbps'],
  ['has(port.driver) && port.driver == "a"', 'driver', ''],
  ['has(port.duplex)', 'duplex', 'duplex'],
  ['has(port.duplex) || port.operUp', 'operUp', ''],
  ['port.addresses.exists(a, a == "b")', 'addresses', ''],
  ['port.addresses.exists(a, a == "b" || port.speedMbps > 1)', 'addresses', ''],
  ['port.addresses.all(a, a == "a" && port.speedMbps > 1)', 'addresses', ''],
  ['port.addresses.all(a, a != "c" && port.speedMbps > 1)', 'addresses speedMbps', 'speedMbps'],
  ['port.lowerPorts.all(a, a == "b")', 'lowerPorts', 'lowerPorts'],
  ['port.addresses.filter(a, a == "a").size() == 1', 'addresses', ''],
  [
    'port.addresses.exists_one(a, a == "a" || port.speedMbps > 1)',
    'addresses speedMbps',
    'speedMbps',
  ],
  ['port.addresses.map(a, port.duplex)[0] == ""', 'addresses duplex', 'duplex'],
  ['port.operUp && port.operUp', 'operUp', ''],
  ['port.mtuBytes / (port.mtuBytes - 9000) > 1', 'mtuBytes', ''],
];

describe('explainTerm', () => {
  it.each(cases)('%s rests on %s and needs %s', (text, facts, needs) => {
    const loaded = loadExpression(text, 'port', cel);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
    const trace = loaded.value.explain(port);
    expect(trace.facts.join(' ')).toBe(facts);
    expect(trace.needs.join(' ')).toBe(needs);
    expect(trace.value).toEqual(loaded.value.test(port));
  });
});
