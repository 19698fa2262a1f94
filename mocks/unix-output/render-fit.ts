import type { DescribedFit, DescribedHost } from './described-host.ts';
import { framed, type Printed } from './framed.ts';

/** What the script that tries packet sizes prints on the described host. */
export function renderFit(
  host: DescribedHost,
  by: {
    readonly marker: string;
    readonly toAddress: string;
    readonly payloadsBytes: readonly number[];
  },
): string {
  const macos = host.facts.systemKind === 'macos';
  const described = host.fits?.find(({ to }) => to === by.toAddress);
  const fit = described ?? { to: by.toAddress, passesBytes: 0, beyond: 'silence' };
  const header = by.toAddress.includes(':') ? 48 : 28;
  const sections: Printed[] = [{ section: 'system', output: macos ? 'Darwin' : 'Linux' }];
  if (!macos)
    sections.push({ section: 'route', output: `${by.toAddress} dev eth0 src 198.18.0.1` });
  for (const payload of by.payloadsBytes) {
    const passes = payload + header <= fit.passesBytes;
    const printed = passes ? reply(fit, payload) : refusal(fit, { payload, macos });
    sections.push({ section: `ping ${payload}`, ...printed });
    if (!passes) break;
  }
  return framed(by.marker, sections);
}

type Output = Omit<Printed, 'section'>;

function reply(fit: DescribedFit, payload: number): Output {
  const line = (seq: number) =>
    `${payload + 8} bytes from ${fit.to}: icmp_seq=${seq} ttl=64 time=0.41 ms`;
  return { output: `${line(1)}\n${line(2)}\n${counted(fit, 2)}` };
}

function refusal(
  fit: DescribedFit,
  { payload, macos }: { readonly payload: number; readonly macos: boolean },
): Output {
  const head = `PING ${fit.to} (${fit.to}) ${payload} bytes of data.`;
  const silent = `${head}\n${counted(fit, 0)}`;
  if (fit.beyond === 'own-interface') {
    const words = macos
      ? 'ping: sendto: Message too long'
      : `ping: local error: message too long, mtu=${fit.passesBytes}`;
    return { output: silent, words, status: macos ? 2 : 1 };
  }
  if (fit.beyond === 'router') {
    const said = macos
      ? `36 bytes from ${fit.router}: frag needed and DF set (MTU ${fit.passesBytes})`
      : `From ${fit.router} icmp_seq=1 Frag needed and DF set (mtu = ${fit.passesBytes})`;
    return { output: `${head}\n${said}\n${counted(fit, 0)}`, status: macos ? 2 : 1 };
  }
  return { output: silent, status: macos ? 2 : 1 };
}

function counted(fit: DescribedFit, received: number): string {
  return `\n--- ${fit.to} ping statistics ---\n2 packets transmitted, ${received} received, ${100 - received * 50}% packet loss, time 1010ms\n`;
}
