import type { FactValue } from '../../facts/entry.ts';
import { gapOf, type Subject } from '../../facts/subject.ts';
import { speedWords } from '../fact-words.ts';
import { clearanceWords, gapSigns } from '../opening.ts';
import { joined, type Markup, markup } from './markup.ts';
import type { PagePort } from './page-ports.ts';
import type { PageView } from './page-view.ts';
import { findingReference } from './references.ts';

/**
 * The ports of a node with their main facts; a click, by the script, opens all facts of one. Since
 * there may be thousands, ends of rows and cells and quotes are left out where a parser needs none
 * (HTML Living Standard, 13.1.2.4 and 13.1.2.3: a fragment has nothing that an unquoted value may
 * not have), and the first column heads its rows without saying so (4.9.12.2).
 */
export function portTable(node: string, ports: readonly PagePort[], view: PageView): Markup {
  const rows = ports.map((port) => portRow(port, view));
  return markup`<div class="scroll" role="group" tabindex="0" aria-label="ports of ${node}"><table data-facts="ports"><thead><tr><th scope="col">port<th scope="col">link<th scope="col">speed<th scope="col">duplex<th scope="col">MTU<th scope="col">packet that passes<th scope="col">findings<tbody>${rows}</table></div>`;
}

function portRow({ fragment, name, undeclared, subject }: PagePort, view: PageView): Markup {
  const findings = view.findingsOn('port', subject.id);
  const links = joined(findings.map(findingReference), '; ');
  const { speedMbps, duplex, mtuBytes } = subject.facts;
  const speed = typeof speedMbps === 'number' ? speedWords(speedMbps) : undefined;
  const cells = [
    linkWords(subject),
    factOr(subject, 'speedMbps', speed),
    factOr(subject, 'duplex', duplex),
    factOr(subject, 'mtuBytes', mtuBytes),
    passWords(subject),
  ];
  const last = undeclared ? 'not declared' : links;
  return markup`<tr id=${fragment}><th>${name}${cells.map((cell) => markup`<td>${cell}`)}<td>${last}
`;
}

/** Whether the port has a link, or why that is not known. */
function linkWords(subject: Subject): string {
  const { adminUp, operUp } = subject.facts;
  if (adminUp === false) return 'switched off';
  if (typeof operUp === 'boolean') return operUp ? 'up' : 'down';
  return signOf(subject, 'operUp');
}

function passWords(subject: Subject): string {
  const { passesAtLeastBytes: least, passesAtMostBytes: most } = subject.facts;
  if (typeof least !== 'number' && typeof most !== 'number') {
    return signOf(subject, 'passesAtMostBytes');
  }
  return clearanceWords({
    ...(typeof least === 'number' ? { atLeastBytes: least } : {}),
    ...(typeof most === 'number' ? { atMostBytes: most } : {}),
    onWord: false,
  });
}

function factOr(subject: Subject, name: string, value: FactValue | undefined): string {
  return value === undefined ? signOf(subject, name) : String(value);
}

/** Why there is no value, in a word or two; a dash where none was ever expected. */
function signOf(subject: Subject, name: string): string {
  const gap = gapOf(subject, name);
  return gap === undefined ? '\u2013' : gapSigns[gap.reason];
}
