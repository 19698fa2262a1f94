import { onPaper } from '../../../src/change/on-paper/on-paper.ts';
import { loadFrom } from '../../intent/load.ts';

/** A row: what is wrong, the intent, what is said of it (kind, subject, words), and its twin. */
export type PaperRow = readonly [
  name: string,
  intent: string,
  said: readonly (readonly [kind: string, on: string, what: string])[],
  twin: string,
];

/** The parts of an intent in one line each; nothing is said of it as it stands. */
export interface Parts {
  readonly nodes?: string;
  readonly segments?: string;
  readonly links?: readonly string[];
  readonly paths?: string;
}

export const cord = 'run: [cord cat6a 2 m]';
export const joined = `{ ends: [plot-1:en7, vault:eth4], untagged: storage, speed: 10G, ${cord} }`;

/** plot-1 and vault on one cord, and what is added to them. */
export function paper({
  nodes = '',
  segments = 'storage: { mtu: 9000 }',
  links = [joined],
  paths = '',
}: Parts): string {
  return `intent: 1
site: Saltmarsh survey office
nodes:
  plot-1: { at: plot-1.office.example }
  vault: { at: vault.office.example }
${nodes}
segments: { ${segments} }
links:
${links.map((link) => `  - ${link}`).join('\n')}
paths: { ${paths} }
`;
}

/** What is said of an intent on paper, as kind, subject and words. */
export async function saidOf(intent: string): Promise<readonly (readonly string[])[]> {
  const loaded = await loadFrom({ 'site.yaml': intent });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.faults));
  return onPaper(loaded.value).map(({ kind, on, what }) => [kind, on, what]);
}
