import type { FitPlan } from '../../src/probe/fit-types.ts';
import type { DescribedFit, DescribedHost } from './described-host.ts';
import { fitSearch, type Sent } from './fit-search.ts';
import { framed, type Printed } from './framed.ts';

/** Largest payload of a ping on macOS, but for root. */
const macosMax = 8164;

/** What the script that tries packet sizes prints on the described host. */
export function renderFit(
  host: DescribedHost,
  by: { readonly marker: string; readonly toAddress: string; readonly payloads: FitPlan },
): string {
  const bsd = host.facts.systemKind !== 'linux';
  const macos = host.facts.systemKind === 'macos';
  const described = host.fits?.find(({ to }) => to === by.toAddress);
  const fit = described ?? { to: by.toAddress, passesBytes: 0, beyond: 'silence' };
  const header = by.toAddress.includes(':') ? 48 : 28;
  const sections: Printed[] = [
    {
      section: 'system',
      output: { linux: 'Linux', macos: 'Darwin', freebsd: 'FreeBSD' }[host.facts.systemKind],
    },
    { section: 'route', output: route(host, by.toAddress) },
    ...(bsd ? [] : [{ section: 'own', output: String(portMtu(host, by.toAddress) ?? '') }]),
  ];
  const rising = macos
    ? [...new Set(by.payloads.risingBytes.map((payload) => Math.min(payload, macosMax)))]
    : by.payloads.risingBytes;
  fitSearch({ ...by.payloads, risingBytes: rising }, (payload, attempt): Sent => {
    const passes = payload + header <= fit.passesBytes;
    const printed = passes ? reply(fit, payload) : refusal(fit, { payload, bsd, attempt });
    sections.push({ section: `ping ${payload}.${attempt}`, ...printed });
    if (passes) return { ended: 'passes' };
    if (printed.words === undefined) return { ended: 'silent' };
    return { ended: 'said', ...(bsd ? {} : { payloadBytes: fit.passesBytes - header }) };
  });
  return framed(by.marker, sections);
}

type Output = Omit<Printed, 'section'>;

function portMtu(host: DescribedHost, to: string): number | undefined {
  const device = host.routes?.find((known) => known.to === to)?.device ?? host.ports[0]?.name;
  return host.ports.find(({ name }) => name === device)?.mtuBytes;
}

function route(host: DescribedHost, to: string): string {
  const known = host.routes?.find((one) => one.to === to);
  const device = known?.device ?? host.ports[0]?.name ?? 'eth0';
  if (host.facts.systemKind === 'linux') {
    const via = known?.gateway === undefined ? '' : ` via ${known.gateway}`;
    return `${to}${via} dev ${device} src ${known?.from ?? '198.18.0.1'}`;
  }
  const via = known?.gateway === undefined ? '' : `    gateway: ${known.gateway}\n`;
  const mtu = known?.mtuBytes ?? portMtu(host, to) ?? 1500;
  return `   route to: ${to}\n${via}  interface: ${device}\n recvpipe  sendpipe  ssthresh  rtt,msec    rttvar  hopcount      mtu     expire\n       0         0         0         0         0         0      ${mtu}         0`;
}

function reply(fit: DescribedFit, payload: number): Output {
  const line = `${payload + 8} bytes from ${fit.to}: icmp_seq=1 ttl=64 time=0.41 ms`;
  return { output: `${line}\n${counted(fit, 1)}` };
}

function refusal(
  fit: DescribedFit,
  { payload, bsd, attempt }: { readonly payload: number; readonly bsd: boolean; attempt: number },
): Output {
  const head = `PING ${fit.to} (${fit.to}) ${payload} bytes of data.`;
  const silent = `${head}\n${counted(fit, 0)}`;
  // Linux keeps what a router said, and refuses by itself from the second packet on.
  if (fit.beyond === 'own-interface' || (fit.beyond === 'router' && !bsd && attempt > 1)) {
    const words = bsd
      ? 'ping: sendto: Message too long'
      : `ping: local error: message too long, mtu=${fit.passesBytes}`;
    return { output: silent, words, status: bsd ? 2 : 1 };
  }
  if (fit.beyond === 'router') {
    const said = bsd
      ? `36 bytes from ${fit.router}: frag needed and DF set (MTU ${fit.passesBytes})`
      : `From ${fit.router} icmp_seq=1 Frag needed and DF set (mtu = ${fit.passesBytes})`;
    return { output: `${head}\n${said}\n${counted(fit, 0)}`, status: bsd ? 2 : 1 };
  }
  return { output: silent, status: bsd ? 2 : 1 };
}

function counted(fit: DescribedFit, received: number): string {
  return `\n--- ${fit.to} ping statistics ---\n1 packets transmitted, ${received} received, ${100 - received * 100}% packet loss, time 0ms\n`;
}
