import { cleanText } from '../../facts/clean-text.ts';
import type { RouteReading } from '../../facts/survey.ts';
import type { Section } from './frames.ts';
import { routeOf } from './route-linux.ts';
import { firstGroup, mtuNumber, textLines, wholeNumber, words } from './text.ts';

/**
 * Reads `route -n get ADDRESS` of macOS and FreeBSD. The MTU stands in a table of the last two lines.
 * Undefined where the command says neither a route nor, in words, that there is none.
 */
export function parseBsdRoute(section: Section): RouteReading | undefined {
  const device = firstGroup(section.output, /^ *interface: (\S+)[ \t]*$/m);
  const said = cleanText(section.words);
  if (section.status !== 0 || (device === undefined && said !== '')) {
    return {
      to: section.about,
      words: said || cleanText(section.output) || 'no route was printed',
    };
  }
  const mtuBytes = mtuOf(section.output);
  if (device === undefined || mtuBytes === 'unreadable') return undefined;
  return routeOf(section.about, {
    device,
    gateway: firstGroup(section.output, /^ *gateway: (\S+)[ \t]*$/m),
    from: undefined,
    mtuBytes: mtuNumber(mtuBytes),
  });
}

function mtuOf(output: string): number | 'unreadable' | undefined {
  const lines = textLines(output);
  const at = lines.findIndex((line) => /\bmtu\b/.test(line) && /\brecvpipe\b/.test(line));
  if (at < 0) return undefined;
  // `rtt,msec` is one title; a trailing `L` marks a locked value.
  const titles = words(lines[at] ?? '');
  const value = words(lines[at + 1] ?? '')[titles.indexOf('mtu')];
  return wholeNumber(value?.replace(/L$/, '')) ?? 'unreadable';
}
