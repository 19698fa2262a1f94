import { cleanText } from '../facts/clean-text.ts';
import type { NodeSurvey } from '../facts/survey.ts';
import type { DeclaredNode } from '../intent/types.ts';
import { sameName } from './same-name.ts';

/**
 * Signs that another machine answers at the address of a node: a changed host key, an identity
 * other than the declared one, or a declared MAC address on none of its ports. Empty: none seen.
 */
export function contradictionsOf(declared: DeclaredNode, survey: NodeSurvey): string[] {
  const changedKeys = survey.readings
    .filter((reading) => reading.trouble?.kind === 'host-key-changed')
    .map((reading) => cleanText(reading.trouble?.seen ?? ''));
  return [...changedKeys, ...otherIdentity(declared, survey), ...missingMacs(declared, survey)];
}

function otherIdentity({ identity }: DeclaredNode, { facts }: NodeSurvey): string[] {
  const signs: string[] = [];
  const compare = (
    what: string,
    wanted: string | undefined,
    seen: string | undefined,
    same: (a: string, b: string) => boolean,
  ) => {
    if (wanted === undefined || seen === undefined || same(wanted, seen)) return;
    signs.push(cleanText(`${what} is ${seen}, declared ${wanted}`));
  };
  compare('host key', identity.hostKey, facts.hostKey, (a, b) => a === b);
  compare('engine id', identity.engineId, facts.engineId, (a, b) => hex(a) === hex(b));
  compare('system name', identity.systemName, facts.systemName, sameName);
  compare('sysObjectID', identity.sysObjectId, facts.sysObjectId, (a, b) => oid(a) === oid(b));
  return signs;
}

function hex(text: string): string {
  return text
    .toLowerCase()
    .replace(/^0x/, '')
    .replace(/[^0-9a-f]/g, '');
}

function oid(text: string): string {
  return text.replace(/^\./, '');
}

function missingMacs(declared: DeclaredNode, survey: NodeSurvey): string[] {
  const wanted = declared.ports.filter((port) => port.mac !== undefined);
  if (wanted.length === 0) return [];
  const seen = new Set<string>();
  for (const { facts } of survey.ports) {
    if (facts.macAddress !== undefined) seen.add(facts.macAddress);
    if (facts.permanentMacAddress !== undefined) seen.add(facts.permanentMacAddress);
  }
  if (seen.size === 0) return [];
  return wanted
    .filter((port) => !seen.has(port.mac ?? ''))
    .map((port) => `no port has the MAC address ${port.mac} that ${port.alias} is declared with`);
}
