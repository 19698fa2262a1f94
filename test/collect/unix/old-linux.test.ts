import { describe, expect, it } from 'vitest';
import { answerScript } from '../../../mocks/unix-output/answer-script.ts';
import type { DescribedHost } from '../../../mocks/unix-output/described-host.ts';
import type { NodeReading } from '../../../src/collect/types.ts';
import { parseUnixOutput } from '../../../src/collect/unix/parse-unix-output.ts';
import { unixScript } from '../../../src/collect/unix/unix-script.ts';
import type { PortReadFacts } from '../../../src/facts/port-facts.ts';
import { vault } from './described.ts';

const marker = 'mark-7';

function answer(host: DescribedHost): string {
  return answerScript(host, unixScript({ marker, peers: ['198.18.0.20'] })) ?? '';
}

function read(text: string): NodeReading | undefined {
  const outcome = parseUnixOutput(new TextEncoder().encode(text), marker);
  return outcome.ok ? outcome.reading : undefined;
}

function portsOf(reading: NodeReading | undefined): Record<string, PortReadFacts> {
  return Object.fromEntries((reading?.ports ?? []).map(({ name, facts }) => [name, facts]));
}

/** What every tool tells, as far as the system knows it. */
const told = [
  ...(['kind', 'adminUp', 'operUp', 'mtuBytes', 'macAddress', 'lowerPorts'] as const),
  ...(['vlanId', 'addresses', 'rxOctets', 'txOctets', 'rxFrames', 'txFrames'] as const),
  ...(['rxErrors', 'txErrors', 'rxDropped', 'txDropped', 'speedMbps', 'duplex'] as const),
  ...(['aggregate', 'aggregateMode', 'aggregatorId', 'permanentMacAddress'] as const),
  ...(['lacpActor', 'lacpPartner', 'lacpPartnerSystem'] as const),
] as const;

describe.each([
  ['text alone', 'text'],
  ["BusyBox's ip", 'busybox'],
  ['ifconfig alone, as BusyBox prints it', 'ifconfig-old'],
  ['ifconfig alone, as net-tools prints it', 'ifconfig-new'],
] as const)('a linux host with %s', (_, tools) => {
  const host: DescribedHost = {
    ...vault,
    tools,
    routeTable: (vault.routeTable ?? []).filter(
      ({ prefix }) => tools === 'text' || tools === 'busybox' || !prefix.includes(':'),
    ),
  };
  const whole = answer(host);
  const reading = read(whole);
  const ports = portsOf(reading);

  it.each(vault.ports.map(({ name }) => name))('tells as much of %s as a new one', (name) => {
    const described = vault.ports.find((port) => port.name === name);
    for (const fact of told) expect(ports[name]?.[fact], fact).toEqual(described?.[fact]);
  });

  it('tells the way to any address', () => {
    expect(reading?.routeTable).toEqual(host.routeTable);
    const byIp = tools === 'text' || tools === 'busybox';
    expect(reading?.routes.map(({ to }) => to)).toEqual(byIp ? ['198.18.0.20', '198.18.9.9'] : []);
  });

  it('gives no other fact wherever the answer is cut', () => {
    const wrong: string[] = [];
    let reads = 0;
    // What comes after the mark is cut in the same way on every host.
    const core = whole.indexOf(`\n${marker} rest\n`) + 20;
    for (let length = 0; length < core; length += 1) {
      const part = read(whole.slice(0, length));
      if (part === undefined) continue;
      reads += 1;
      for (const [name, facts] of Object.entries(portsOf(part))) {
        for (const [fact, value] of Object.entries(facts)) {
          const other: unknown = { ...ports[name] }[fact as 'kind'];
          if (JSON.stringify(value) !== JSON.stringify(other)) wrong.push(`${name} ${fact}`);
        }
      }
      expect([undefined, reading?.routeTable]).toContainEqual(part.routeTable);
    }
    expect(reads).toBeGreaterThan(tools.startsWith('ifconfig') ? 0 : 1000);
    expect([...new Set(wrong)]).toEqual([]);
  }, 120_000);
});
