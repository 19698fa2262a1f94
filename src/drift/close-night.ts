import type { NodeSurvey, Survey } from '../facts/survey.ts';
import { wasRead } from '../facts/was-read.ts';
import type { DeclaredNode, Intent, Waiver } from '../intent/types.ts';
import type { Finding, Judgement } from '../judge/types.ts';
import { compareNode } from './compare-node.ts';
import { growthsOf } from './growth.ts';
import type { Change } from './known-node.ts';
import type { Growth, Night, Past, WaiverUse } from './night.ts';
import { type OpenFinding, type Settlement, settleFindings } from './settle-findings.ts';
import { silencesOf } from './silences.ts';

/** One audit, with all that it is compared with. */
export interface Evening {
  readonly intent: Intent;
  readonly survey: Survey;
  readonly judgement: Judgement;
  readonly past: Past;
  /** ISO 8601 UTC. */
  readonly startedAt: string;
  readonly endedAt: string;
}

/** What moved since the audit before, and what is to be kept. */
export interface ClosedNight {
  /** This is the first audit of the site that is kept: everything is as it was found. */
  readonly first: boolean;
  /** Start of the audit before. */
  readonly lastAt?: string;
  /** End of the last audit of which all nodes answered, this one among them; absent: none did. */
  readonly lastCompleteAt?: string;
  readonly settlement: Settlement;
  readonly changes: readonly Change[];
  readonly growths: readonly Growth[];
  /** Nodes that did not answer, with when they last did; those never read have none. */
  readonly asleep: readonly { readonly node: string; readonly seenAt?: string }[];
  /** Waivers that tonight were not needed for the fourteenth night in a row. */
  readonly idleWaivers: readonly Waiver[];
  /** Waivers whose last day has passed since the audit before. */
  readonly endedWaivers: readonly Waiver[];
  readonly night: Night;
}

/** Nights in a row on which a waiver was not needed, after which it is said. */
export const idleWaiverNights = 14;

/** Compares one audit with the nights before. Pure; nothing is written. */
export function closeNight(evening: Evening): ClosedNight {
  const { survey, judgement, past, startedAt, endedAt, intent } = evening;
  const compared = survey.nodes.map((node) => ({
    node,
    growths: growthsOf(past.known.get(node.node), node, endedAt),
    ...compareNode(past.known.get(node.node), node, endedAt),
  }));
  const silent = new Set(survey.nodes.filter((node) => !wasRead(node)).map(({ node }) => node));
  const settlement = settleFindings(judgement.findings, past.open, {
    at: startedAt,
    absentVerdict: (open) => absentVerdict(open, evening, silent),
  });
  const changes = compared.flatMap((each) => each.changes);
  const growths = compared.flatMap((each) => each.growths);
  const read = survey.nodes.filter(wasRead);
  const waivers = waiverUses(intent, judgement, past);
  const complete = read.length + mayMiss(survey, intent) === survey.nodes.length;
  const lastCompleteAt = complete ? endedAt : past.lastCompleteAt;
  const told = settlement.living.filter(({ life }) => life === 'new' || life === 'worsened');
  return {
    first: past.lastAt === undefined,
    ...(past.lastAt === undefined ? {} : { lastAt: past.lastAt }),
    ...(lastCompleteAt === undefined ? {} : { lastCompleteAt }),
    settlement,
    changes,
    growths,
    asleep: survey.nodes.filter((node) => !wasRead(node)).map((node) => lastSeen(node, past)),
    idleWaivers: intent.waivers.filter((waiver) =>
      waivers.some((use) => isOf(waiver, use) && use.metNights === idleWaiverNights),
    ),
    endedWaivers: intent.waivers.filter(({ until }) => endedSince(until, past, startedAt)),
    night: {
      site: survey.site,
      startedAt,
      endedAt,
      complete,
      tally: judgement.tally,
      nodesRead: read.length,
      nodesAsked: survey.nodes.length,
      told: told.length + settlement.cleared.length,
      known: compared.flatMap(({ node, known }) =>
        known !== undefined && wasRead(node) ? [known] : [],
      ),
      changes,
      growths,
      silences: compared.flatMap(({ node, known }) => silencesOf(known, node)),
      open: settlement.open,
      waivers,
      ...proofsOf(survey),
    },
  };
}

function proofsOf({ fits = [], transfers = [] }: Survey): Pick<Night, 'proofs'> {
  return fits.length + transfers.length === 0 ? {} : { proofs: { fits, transfers } };
}

/**
 * A pair without a finding tonight: met; without a verdict where its rule does not apply, waits for
 * a node that may be absent, or judges a port that only a reading shows, of a node that was not
 * read; else the intent or the policies no longer have it.
 */
function absentVerdict(
  { id, subject }: OpenFinding,
  { judgement }: Evening,
  silent: ReadonlySet<string>,
): 'met' | 'gone' | 'unsaid' {
  const seen = judgement.watched.get(id);
  if (seen === 'met') return 'met';
  if (seen !== undefined) return 'unsaid';
  const node = subject.id.slice(0, subject.id.indexOf(':'));
  return subject.kind === 'port' && silent.has(node) ? 'unsaid' : 'gone';
}

function lastSeen({ node }: NodeSurvey, past: Past): ClosedNight['asleep'][number] {
  const seenAt = past.known.get(node)?.seenAt;
  return seenAt === undefined ? { node } : { node, seenAt };
}

/** How many nodes that may be absent did not answer. */
function mayMiss(survey: Survey, intent: Intent): number {
  const excused = new Set(intent.nodes.filter(mayBeAway).map(({ name }) => name));
  return survey.nodes.filter((node) => !wasRead(node) && excused.has(node.node)).length;
}

function mayBeAway({ sleeps, mayBeAbsent }: DeclaredNode): boolean {
  return sleeps || mayBeAbsent;
}

/** A night on which a waiver's subjects could not be read counts neither way. */
function waiverUses(intent: Intent, judgement: Judgement, past: Past): WaiverUse[] {
  const met = new Set(judgement.waiversMet.map(placeKey));
  const needed = new Set(judgement.findings.flatMap(neededWaiver));
  return intent.waivers.map((waiver) => {
    const before = past.waivers.find((use) => isOf(waiver, use))?.metNights ?? 0;
    const key = placeKey(waiver.place);
    const metNights = needed.has(key) ? 0 : before + (met.has(key) ? 1 : 0);
    return { rule: waiver.rule, on: waiver.on, metNights };
  });
}

/** Said once: on the first audit after its last day. */
function endedSince(until: string, { lastAt }: Past, startedAt: string): boolean {
  const dayOf = (at: string) => at.slice(0, 'YYYY-MM-DD'.length);
  return lastAt !== undefined && until >= dayOf(lastAt) && until < dayOf(startedAt);
}

function neededWaiver({ waiver, beneath }: Finding): string[] {
  return waiver !== undefined && beneath === 'broken' ? [placeKey(waiver.place)] : [];
}

function isOf(waiver: Waiver, use: WaiverUse): boolean {
  return waiver.rule === use.rule && waiver.on === use.on;
}

function placeKey({ file, line, column }: Waiver['place']): string {
  return `${file}:${line}:${column}`;
}
