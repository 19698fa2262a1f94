import type { FitPlan } from '../../src/probe/fit-types.ts';
import { fitSearch, type Sent } from '../unix-output/fit-search.ts';
import type { DescribedWindows } from './described-windows.ts';
import { type PrintedRows, windowsFramed } from './windows-framed.ts';

/** Numbers of IPStatus. */
const passes = 0;
const tooBig = 11_009;
const timedOut = 11_010;

/** What the script that tries packet sizes prints on the described host. */
export function renderWindowsFit(
  host: DescribedWindows,
  by: { readonly marker: string; readonly toAddress: string; readonly payloads: FitPlan },
): string {
  const { toAddress } = by;
  const described = host.fits?.find(({ to }) => to === toAddress);
  const fit = described ?? { to: toAddress, passesBytes: 0, beyond: 'silence' as const };
  const from = host.routes?.find(({ to }) => to === toAddress)?.from;
  const header = toAddress.includes(':') ? 48 : 28;
  const sections: PrintedRows[] = [
    { section: 'source', rows: from === undefined ? [] : [{ from }] },
  ];
  fitSearch(by.payloads, (payload, attempt): Sent => {
    const fits = payload + header <= fit.passesBytes;
    const beyond = {
      silence: { status: timedOut, address: '0.0.0.0' },
      'own-interface': { status: tooBig, address: from ?? '' },
      router: { status: tooBig, address: fit.router },
    }[fit.beyond];
    const row = fits ? { status: passes, address: toAddress } : beyond;
    sections.push({ section: `ping ${payload}.${attempt}`, rows: [row] });
    if (fits) return { ended: 'passes' };
    return { ended: fit.beyond === 'silence' ? 'silent' : 'said' };
  });
  return windowsFramed(by.marker, sections, []);
}
