import { stringify } from 'yaml';
import { cleanText } from '../facts/clean-text.ts';
import type { Access } from '../intent/types.ts';
import { speedText } from './link-speed.ts';
import type { Draft, DraftLink, DraftNode, DraftPath, DraftSegment } from './types.ts';

/** Longest comment; a reader's terminal is narrower still. */
const commentLengthMax = 600;

/** The draft as an intent file. What it leaves open stands in comments that begin with `# ?`. */
export function draftText(draft: Draft): string {
  const parts = [
    [
      comment(`A first intent, drafted by hopgauge from what was read on ${draft.readAt}.`),
      comment("Lines with '?' are questions: answer them, and correct what is not meant to be so."),
      'intent: 1',
      `site: ${flow(draft.site)}`,
    ],
    section('access', accessLines(draft.access)),
    section('nodes', draft.nodes.map(nodeLine)),
    section('segments', draft.segments.flatMap(segmentLines)),
    section('links', draft.links.flatMap(linkLines)),
    section('paths', draft.paths.map(pathLine)),
    ['policies: [essential, jumbo, cabling, signal]'],
    draft.questions.map((question) => comment(`? ${question}`)),
  ];
  return `${parts
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
}

function section(name: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [`${name}:`, ...lines.map((line) => `  ${line}`)];
}

/** Device text in a comment ends with its line, whatever it holds. */
function comment(text: string): string {
  return `# ${cleanText(text, commentLengthMax)}`;
}

/** A value in one line, with quotes where YAML needs them. */
function flow(value: unknown): string {
  return stringify(value, { collectionStyle: 'flow', lineWidth: 0 }).trimEnd();
}

function noted(line: string, note: string): string {
  return note === '' ? line : `${line}  ${comment(note)}`;
}

/** Secrets are named, as in every intent; what is built in has no entry. */
export function accessLines(accesses: readonly Access[]): string[] {
  const byName = new Map<string, Record<string, unknown>>();
  for (const access of accesses) {
    const { via, name, ...settings } = access;
    if (via === 'local' || (via === 'ssh' && name === 'ssh')) continue;
    const entry = byName.get(name) ?? {};
    entry[via] = via === 'snmp' ? snmpSettings(settings) : settings;
    byName.set(name, entry);
  }
  return [...byName].map(([name, entry]) => `${flow(name)}: ${flow(entry)}`);
}

/** Version 3 is a number in an intent, and an absent protocol is written out. */
function snmpSettings(settings: Record<string, unknown>): Record<string, unknown> {
  const { version, auth = 'none', privacy = 'none', ...rest } = settings;
  if (version !== '3') return settings;
  return { version: 3, ...rest, auth, privacy };
}

/** One entry of `nodes:`. */
export function nodeLine({ name, at, access, engineId, known }: DraftNode): string {
  const entry = {
    ...(at === undefined ? {} : { at }),
    ...(access.length === 0 ? {} : { access: [...access] }),
    ...(engineId === undefined ? {} : { identity: { engineId } }),
  };
  return noted(`${flow(name)}: ${flow(entry)}`, known);
}

/** One entry of `segments:`, after its questions. */
export function segmentLines({ name, vlan, mtuBytes, known, questions }: DraftSegment): string[] {
  const entry = {
    ...(vlan === undefined ? {} : { vlan }),
    ...(mtuBytes === undefined ? {} : { mtu: mtuBytes }),
  };
  return [
    ...questions.map((question) => comment(`? ${question}`)),
    noted(`${flow(name)}: ${flow(entry)}`, known),
  ];
}

/** One entry of `links:`, after its questions; the run is always a question. */
export function linkLines(link: DraftLink): string[] {
  const entry = {
    ends: [...link.ends],
    ...(link.untagged === undefined ? {} : { untagged: link.untagged }),
    ...(link.tagged.length === 0 ? {} : { tagged: [...link.tagged] }),
    ...(link.speedMbps === undefined ? {} : { speed: speedText(link.speedMbps) }),
    ...(link.lag === undefined ? {} : { lag: link.lag }),
  };
  return [
    ...link.questions.map((question) => comment(`? ${question}`)),
    noted(`- ${flow(entry)}`, `${link.known}; run: ?`),
  ];
}

/** One entry of `paths:`. */
export function pathLine({ name, from, to, over, known }: DraftPath): string {
  return noted(`${flow(name)}: ${flow({ from: [from], to: [to], over: [over] })}`, known);
}
