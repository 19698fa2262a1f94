import { cleanText } from '../facts/clean-text.ts';
import type { Gap } from '../facts/gap.ts';
import type { Provenance } from '../facts/subject.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import { troubleKinds } from '../facts/trouble.ts';
import { wasRead } from '../facts/was-read.ts';
import type { DeclaredNode } from '../intent/types.ts';
import type { CountedFrom } from './counted-since.ts';
import { type Aliases, findAliases } from './find-ports.ts';
import { contradictionsOf } from './identity.ts';
import { passesOn } from './passes-on.ts';
import { gapOf, nothingShared, portReadGaps } from './provenance.ts';

/** A node with all that its ports have in common. */
export interface NodeView {
  readonly declared: DeclaredNode;
  readonly survey?: NodeSurvey;
  /** At least one access gave an answer. */
  readonly read: boolean;
  readonly contradictions: readonly string[];
  /** Why no port of it is judged; absent: they are. */
  readonly gap?: Gap;
  /** Nobody reads it, and the intent's word is taken. */
  readonly onWord: boolean;
  /** Passes frames on in layer 2. */
  readonly forwards: boolean;
  /** By the node's own names; empty when no port of it is judged. */
  readonly ports: ReadonlyMap<string, PortSurvey>;
  readonly aliases: Aliases;
  /** Names of the ports that are built directly on one. */
  readonly uppers: ReadonlyMap<string, readonly string[]>;
  readonly portProvenance: Provenance;
  /** Counters of an earlier night that went on since; absent: none did. */
  readonly earlier?: CountedFrom;
}

/** What a node is joined with besides what was read of it. */
export interface ViewOptions {
  readonly strict: boolean;
  /** Ports that links name. */
  readonly linked: readonly string[];
  readonly earlier?: CountedFrom;
}

/** Joins a declared node with what was read of it. */
export function viewNode(
  declared: DeclaredNode,
  survey: NodeSurvey | undefined,
  { strict, linked, earlier }: ViewOptions,
): NodeView {
  const unread = declared.unread !== undefined;
  const contradictions = survey === undefined || unread ? [] : contradictionsOf(declared, survey);
  const gap = gapOfNode(declared, survey, contradictions);
  const onWord = unread && !strict;
  const judged = gap === undefined ? (survey?.ports ?? []) : [];
  const ports = new Map(judged.map((port) => [port.name, port]));
  return {
    declared,
    ...(survey === undefined ? {} : { survey }),
    read: !unread && wasRead(survey),
    contradictions,
    ...(gap === undefined ? {} : { gap }),
    onWord,
    forwards: passesOn(declared),
    ports,
    aliases: findAliases(declared, {
      ports,
      linked,
      hardwareNames: survey?.facts.systemKind === 'macos',
    }),
    uppers: uppersOf(judged),
    portProvenance: provenanceOf(survey, gap, onWord),
    ...(earlier === undefined ? {} : { earlier }),
  };
}

function gapOfNode(
  declared: DeclaredNode,
  survey: NodeSurvey | undefined,
  contradictions: readonly string[],
): Gap | undefined {
  const cause = `node ${declared.name}`;
  if (declared.unread !== undefined) return gapOf('unasked', 'nobody reads it', cause);
  if (survey === undefined) return gapOf('unasked', 'it is not in the survey', cause);
  const sign = contradictions[0];
  if (sign !== undefined)
    return gapOf('doubtful', `another machine seems to answer at its address: ${sign}`, cause);
  if (wasRead(survey)) return undefined;
  const trouble = survey.readings.find((reading) => reading.trouble !== undefined)?.trouble;
  if (trouble === undefined) return gapOf('unasked', 'no access was tried', cause);
  return gapOf(troubleKinds[trouble.kind], cleanText(trouble.seen), cause);
}

function uppersOf(ports: readonly PortSurvey[]): Map<string, string[]> {
  const uppers = new Map<string, string[]>();
  for (const port of ports) {
    for (const lower of port.facts.lowerPorts ?? []) {
      const above = uppers.get(lower);
      if (above === undefined) uppers.set(lower, [port.name]);
      else above.push(port.name);
    }
  }
  return uppers;
}

function provenanceOf(
  survey: NodeSurvey | undefined,
  gap: Gap | undefined,
  onWord: boolean,
): Provenance {
  // On the owner's word nothing was expected to be read, so nothing is missing.
  if (onWord) return nothingShared;
  if (gap !== undefined) return { sources: {}, gaps: portReadGaps(gap) };
  return { sources: survey?.portSources ?? {}, gaps: survey?.portGaps ?? {} };
}
