import type { PortReadFacts } from '../../facts/port-facts.ts';
import type { SystemAdvice } from './types.ts';
import type { OneMode } from './wanted.ts';

/** A medium as ifconfig(8) lists it: `1000baseT`, `10Gbase-T`, `2500Base-T`, with its options. */
const listed = /^((\d{1,5}(?:\.\d)?)(G?)base[A-Za-z0-9/-]{1,16})(?: ([a-z,-]{1,60}))?$/i;

/**
 * The one medium of the port that gives `mode`, as its system spells it; undefined where the port
 * lists none or several, since spellings differ from driver to driver and are not to be guessed.
 */
export function mediumFor(mode: OneMode, port: PortReadFacts | undefined): string | undefined {
  const media = (port?.supportedModes ?? []).flatMap((text) => {
    const [, medium = '', digits = '', giga = '', options = ''] = listed.exec(text) ?? [];
    const speedMbps = Number(digits) * (giga === '' ? 1 : 1000);
    const half = options.split(',').includes('half-duplex');
    return medium !== '' && speedMbps === mode.speedMbps && half === (mode.duplex === 'half')
      ? [medium]
      : [];
  });
  const [medium, ...others] = [...new Set(media)];
  return others.length === 0 ? medium : undefined;
}

/**
 * No command for a port that is to negotiate and to offer one mode alone: a system that knows media
 * by name has one word for all modes, `autoselect`, and else one medium, which may take the place of
 * negotiation (ifconfig(8), networksetup(8)).
 */
export function offersOne(command: string, device: string): SystemAdvice {
  const why = `no command is given for ${device}: ${command} knows "autoselect", which offers all modes, and one fixed medium, and has no word for negotiating with one mode alone; leave it at autoselect, and let the port at the other end offer that mode alone`;
  return { temporary: [], persistent: [], undo: [], cautions: [why], noCommand: [why] };
}
