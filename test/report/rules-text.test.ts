import { describe, expect, it } from 'vitest';
import { dictionary, subjectKinds } from '../../src/facts/dictionary.ts';
import { columnsOf } from '../../src/report/layout.ts';
import { factsText, rulesText } from '../../src/report/rules-text.ts';
import { policyOf, ruleLines } from '../judge/policy-samples.ts';
import { loadShipped } from '../judge/shipped.ts';

const shipped = await loadShipped('essential', 'jumbo');

describe('rulesText', () => {
  it('lists what a rule judges, reads and rests on', () => {
    const policy = policyOf(
      ruleLines({
        rule: 'mtu',
        when: 'has(port.declaredMtuBytes)',
        holds: 'port.mtuBytes >= port.declaredMtuBytes',
        says: 'has {port.mtuBytes} bytes',
        source: 'RFC 894',
      }),
      ruleLines({ rule: 'up', severity: 'notice' }),
    );
    expect(rulesText([policy], 60)).toBe(
      [
        'own: Samples.',
        'from own.yaml',
        '',
        '  mtu (error, judges each port)',
        '    when: has(port.declaredMtuBytes)',
        '    holds: port.mtuBytes >= port.declaredMtuBytes',
        '    says: has {port.mtuBytes} bytes',
        '    source: RFC 894',
        '    reads: port.declaredMtuBytes, port.mtuBytes',
        '',
        '  up (notice, judges each port)',
        '    holds: port.operUp',
        '    says: is not so',
        '    source: common practice',
        '    reads: port.operUp',
        '',
      ].join('\n'),
    );
  });

  it.each([40, 80, 200])('keeps the shipped rules within %i columns', (width) => {
    const lines = rulesText(shipped, width).split('\n');
    expect(Math.max(...lines.map(columnsOf))).toBeLessThanOrEqual(width);
    for (const { rule } of shipped.flatMap(({ rules }) => rules)) {
      expect(lines.filter((line) => line.startsWith(`  ${rule} (`))).toHaveLength(1);
    }
  });

  it('lists nothing where no policy is in force', () => {
    expect(rulesText([], 80)).toBe('');
  });
});

describe('factsText', () => {
  it('lists every fact once, with type, unit, meaning and sources', () => {
    const text = factsText(dictionary, 1000);
    expect(text).toContain(
      [
        '  port.speedMbps (number in Mb/s, read)',
        '    Speed in use of one port; of an aggregate, what its system reports',
        '    absent when: link down, unknown, or not believable',
        '    from: /sys/class/net/*/speed; ethtool Speed; ifconfig media; IF-MIB ifHighSpeed',
        '',
        '  port.duplex (text, read)',
      ].join('\n'),
    );
    const lines = text.split('\n');
    for (const kind of subjectKinds) {
      const names = Object.keys(dictionary[kind]);
      expect(lines).toContain(`${kind}, ${names.length} facts`);
      for (const name of names) {
        expect(lines.filter((line) => line.startsWith(`  ${kind}.${name} (`))).toHaveLength(1);
      }
    }
  });

  it('keeps within the width', () => {
    const lines = factsText(dictionary, 60).split('\n');
    expect(Math.max(...lines.map(columnsOf))).toBeLessThanOrEqual(60);
  });
});
