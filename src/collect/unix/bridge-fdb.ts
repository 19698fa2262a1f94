import { type Station, stationsMax } from './forwarding.ts';
import { firstGroup, macText, textLines, wholeNumber } from './text.ts';

/**
 * Reads `bridge fdb show`: the stations that bridges have learnt. Entries of the port itself
 * (`self`), and those that are set by hand or by the kernel (`permanent`, `static`), are left out.
 */
export function parseBridgeFdb(output: string): readonly Station[] {
  return textLines(output)
    .slice(0, stationsMax)
    .flatMap((line) => {
      const [, address, port = '', rest = ''] = /^([0-9a-f:]{17}) dev (\S+)(.*)$/i.exec(line) ?? [];
      const mac = macText(address);
      const learnt = / master \S/.test(rest) && !/ (?:permanent|static|self)(?= |$)/.test(rest);
      if (mac === undefined || !learnt) return [];
      const vlan = wholeNumber(firstGroup(rest, / vlan (\d{1,4})(?= |$)/));
      return [{ mac, port, ...(vlan === undefined || vlan === 0 ? {} : { vlan }) }];
    });
}
