import { cleanText } from '../../facts/clean-text.ts';
import type { RouteReading } from '../../facts/survey.ts';
import type { Section } from './frames.ts';
import { jsonObjects, numberOf, objectsOf, textOf } from './json-values.ts';
import { isLiteralAddress } from './literal.ts';
import { firstGroup, mtuNumber, wholeNumber } from './text.ts';

interface Parts {
  readonly device: string | undefined;
  readonly gateway: string | undefined;
  readonly from: string | undefined;
  readonly mtuBytes: number | undefined;
}

/**
 * Reads the answer to `ip -j route get` or `ip route get`: releases before 5.0 print text even
 * when asked for JSON. Undefined where the command succeeded and no route is in what it printed.
 */
export function parseLinuxRoute(section: Section): RouteReading | undefined {
  const json = section.output.trimStart().startsWith('[');
  const parts = json ? jsonParts(section.output) : textParts(section.output);
  if (section.status !== 0) {
    const said = cleanText(section.words) || cleanText(section.output);
    return { to: section.about, words: said || 'no route was printed' };
  }
  return parts?.device === undefined ? undefined : routeOf(section.about, parts);
}

/** A route of these parts; what is no literal address is left out. */
export function routeOf(to: string, parts: Parts): RouteReading {
  const address = (text: string | undefined) =>
    text !== undefined && isLiteralAddress(text) ? text : undefined;
  const gateway = address(parts.gateway);
  const from = address(parts.from);
  return {
    to,
    ...(parts.device === undefined ? {} : { device: cleanText(parts.device) }),
    ...(gateway === undefined ? {} : { gateway }),
    ...(from === undefined ? {} : { from }),
    ...(parts.mtuBytes === undefined ? {} : { mtuBytes: parts.mtuBytes }),
  };
}

function jsonParts(output: string): Parts | undefined {
  const route = jsonObjects(output)?.[0];
  if (route === undefined) return undefined;
  const via = objectsOf([route['via']])[0];
  return {
    device: textOf(route['dev']),
    gateway: textOf(route['gateway']) ?? textOf(via?.['host']),
    from: textOf(route['prefsrc']),
    mtuBytes: mtuNumber(numberOf(objectsOf(route['metrics'])[0]?.['mtu'])),
  };
}

function textParts(output: string): Parts {
  const one = output.replace(/\s+/g, ' ');
  return {
    device: firstGroup(one, /(?:^| )dev (\S+)/),
    gateway: firstGroup(one, / via (?:inet6? )?([0-9a-f.:]+)(?= |$)/i),
    from: firstGroup(one, / src ([0-9a-f.:]+)(?= |$)/i),
    mtuBytes: mtuNumber(wholeNumber(firstGroup(one, / mtu (?:lock )?(\d+)(?= |$)/))),
  };
}
