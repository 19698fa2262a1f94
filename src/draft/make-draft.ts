import { cleanText } from '../facts/clean-text.ts';
import type { Access } from '../intent/types.ts';
import type { KnownSegment } from './against-intent.ts';
import { draftLinks } from './draft-links.ts';
import { draftPaths } from './draft-paths.ts';
import { endWords } from './ends.ts';
import { findSegments } from './find-segments.ts';
import { type Crowd, forwardingLinks } from './forwarding-links.ts';
import { linklessQuestions, notReadWords } from './left-out.ts';
import { type Heard, lldpLinks } from './lldp-links.ts';
import { findMachines, type Machines } from './machines.ts';
import { nameGiver } from './names.ts';
import { standingsOf } from './standings.ts';
import type { Draft, DraftNode, DraftSubject, Machine } from './types.ts';
import { identifier } from './who-is-it.ts';

/** What a draft is made from. */
export interface DraftInput {
  readonly site: string;
  /** ISO 8601 time at which the reading ended. */
  readonly readAt: string;
  readonly subjects: readonly DraftSubject[];
  /** Names that an intent has already, which no other thing may have. */
  readonly taken?: readonly string[];
  /** Segments of that intent. */
  readonly segments?: readonly KnownSegment[];
  /** Nodes that it has links of: nobody asks where they are plugged in. */
  readonly linked?: ReadonlySet<string>;
  /** It has paths, so that none is suggested. */
  readonly hasPaths?: boolean;
}

/**
 * A first intent from what was read. Nothing in it is invented: what does not follow from the
 * facts is a question, and a fault that is there now does not become what is meant.
 */
export function makeDraft(input: DraftInput): Draft {
  const { site, readAt, subjects, taken = [], linked = new Set() } = input;
  const names = nameGiver(taken);
  const found = findMachines(subjects, names);
  const { machines } = found;
  const who = identifier(machines);
  const lldp = lldpLinks(machines, who);
  const table = forwardingLinks(machines, who, lldp.announced);
  const links = [...lldp.links, ...table.links];
  const standings = standingsOf(machines, links);
  const segments = findSegments(standings, names, input.segments);
  const paths = draftPaths(standings, segments, names);
  const unplaced = machines.filter(({ name }) => !linked.has(name));
  const notRead = found.notRead.map(notReadWords);
  return {
    site,
    readAt,
    access: accessesOf(machines),
    nodes: machines.map(nodeOf),
    segments: segments.segments,
    links: draftLinks(links, segments),
    paths: paths.paths,
    notRead,
    questions: [
      ...notRead,
      ...lldp.questions,
      ...table.questions,
      ...lldp.strangers.map(strangerQuestion),
      ...table.crowds.map(crowdQuestion),
      ...linklessQuestions(unplaced, links, table.crowds),
      ...leftOver(found),
      ...(input.hasPaths === true ? [] : paths.questions),
    ],
    counts: {
      read: machines.length,
      linksByLldp: lldp.links.length,
      linksByForwarding: table.links.length,
    },
  };
}

function accessesOf(machines: readonly Machine[]): readonly Access[] {
  return [...new Set(machines.flatMap(({ access }) => access))];
}

/** Accesses that every intent has, without an entry of its own. */
const builtIn = new Set(['ssh', 'local']);

function nodeOf({ name, at, access, survey }: Machine): DraftNode {
  const { systemText, engineId } = survey.facts;
  const named = [...new Set(access.map((each) => each.name))];
  const plain = named.length === 1 && named[0] === 'ssh';
  return {
    name,
    ...(at === undefined ? {} : { at }),
    access: plain && builtIn.has('ssh') ? [] : named,
    ...(engineId === undefined ? {} : { engineId }),
    known: cleanText(systemText ?? '', 60),
  };
}

function strangerQuestion({ at, reading }: Heard): string {
  const { systemName, chassis, portId, addresses, frameMaxBytes } = reading;
  const who = cleanText(systemName ?? chassis, 60);
  const where =
    addresses.length === 0 ? '' : ` at ${cleanText(addresses.slice(0, 2).join(', '), 80)}`;
  const frame =
    frameMaxBytes === undefined
      ? ''
      : `; it says that its frames are ${frameMaxBytes} bytes at most`;
  return `${endWords(at)} hears ${who} (port ${cleanText(portId, 40)})${where}, which was not read: read it too, or declare it unread${frame}`;
}

function crowdQuestion({ at, known, unknownCount }: Crowd): string {
  const stations = [
    ...known.map(endWords).slice(0, 4),
    ...(unknownCount === 0 ? [] : [`${unknownCount} more`]),
  ].join(', ');
  return `behind ${endWords(at)} there are several stations (${stations}): a switch that nobody reads (unread: switch), or guests of one host (behind: N)?`;
}

function leftOver({ twins, homeless }: Machines): string[] {
  return [
    ...twins.map(
      ({ subject, of }) => `${cleanText(subject.at ?? '', 80)} is ${of.name} once more: left out`,
    ),
    ...homeless.map(
      ({ survey }) =>
        `${cleanText(survey.node, 80)} was read, but where it is cannot be written: add it by hand`,
    ),
  ];
}
