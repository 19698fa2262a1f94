import type { NeighbourReading, Survey } from '../../src/facts/survey.ts';
import { wasRead } from '../../src/facts/was-read.ts';
import type { FaultCount, FaultKind } from './fault-kinds.ts';
import type { OfficeRun } from './office-run.ts';

/** Everything that a survey says is so, one claim each, as text. */
function claimsOf({ nodes }: Survey): ReadonlySet<string> {
  return new Set(
    nodes.flatMap((node) => [
      ...factClaims(node.node, node.facts),
      ...node.ports.flatMap((port) => [
        JSON.stringify([node.node, 'port', port.name]),
        ...factClaims(`${node.node}:${port.name}`, port.facts),
      ]),
      ...listed(node.node, 'route', node.routes),
      ...listed(node.node, 'row', node.routeTable ?? []),
      ...listed(node.node, 'session', node.sessions),
      ...listed(node.node, 'mount', node.mounts),
      ...listed(
        node.node,
        'neighbour',
        (node.neighbours ?? []).map((one) => (node.gaps['neighbours'] ? bare(one) : one)),
      ),
      ...listed(node.node, 'station', node.forwarding ?? []),
      ...listed(node.node, 'disagreement', node.disagreements),
    ]),
  );
}

/** A list with a gap beside it may lack what its neighbours announce: only who they are counts. */
function bare({ port, chassis, portId }: NeighbourReading): object {
  return { port, chassis, portId };
}

function factClaims(about: string, facts: object): readonly string[] {
  return Object.entries(facts).map(([fact, value]) => JSON.stringify([about, fact, value]));
}

function listed(node: string, what: string, rows: readonly object[]): readonly string[] {
  return rows.map((row) => JSON.stringify([node, what, row]));
}

/** Free text of a node: whatever it says is what it says, bytes that are no text too. */
const freeText = /^\["[^"]+","(?:systemName|systemText|osVersion|alias)",/;

/** What the undisturbed run claims, of neighbours also the bare claim of who they are. */
function knownOf(survey: Survey): ReadonlySet<string> {
  const bareOnes = survey.nodes.flatMap(({ node, neighbours = [] }) =>
    listed(node, 'neighbour', neighbours.map(bare)),
  );
  return new Set([...claimsOf(survey), ...bareOnes]);
}

/** What a disturbed run says that it cannot know, one line each; nothing is as it must be. */
export function unfounded(
  whole: OfficeRun,
  disturbed: OfficeRun,
  kind: FaultKind | 'at the door',
): readonly string[] {
  const known = knownOf(whole.survey);
  const mayDiffer = kind === 'garbage' || kind === 'wrong type' ? freeText : /^$/;
  const facts = [...claimsOf(disturbed.survey)]
    .filter((claim) => !known.has(claim) && !mayDiffer.test(claim))
    .map((claim) => `not so: ${claim}`);
  const verdicts = [...disturbed.verdicts].flatMap(([pair, verdict]) => {
    const was = whole.verdicts.get(pair);
    return mayBe(verdict, was, pair) ? [] : [`${pair}: ${verdict}, and was ${was}`];
  });
  return [...facts, ...verdicts];
}

/** Rules for which it is not enough to say nothing where something is not known. */
const core: ReadonlySet<string> = new Set([
  'path-clearance',
  'port-clearance',
  'goodput-in-reach',
  'segment-agrees',
  'speed-as-declared',
  'duplex-full',
  'ends-same-speed',
  'ends-same-duplex',
]);

/** Rules of the intent alone, which apply where no reading shows that the link runs as declared. */
const ofIntent: ReadonlySet<string> = new Set(['run-carries-speed']);

/** What is judged from less is judged the same or not at all. */
function mayBe(verdict: string, was: string | undefined, pair: string): boolean {
  if (verdict === was || verdict === 'undetermined' || verdict === 'excused') return true;
  if (ofIntent.has(pair.split(' ')[0] ?? '')) return verdict === 'met';
  return verdict === 'notApplicable' && !core.has(pair.split(' ')[0] ?? '');
}

/** Adds one disturbed run to the counts of its kind. */
export function count(
  into: FaultCount,
  { whole, disturbed, node }: { whole: OfficeRun; disturbed: OfficeRun; node: string },
): void {
  const known = knownOf(whole.survey);
  const read = disturbed.survey.nodes.some((one) => one.node === node && wasRead(one));
  const became = (verdict: string) =>
    [...disturbed.verdicts].filter(
      ([pair, is]) => is === verdict && whole.verdicts.get(pair) !== verdict,
    ).length;
  into.runs += 1;
  into[read ? 'read' : 'unread'] += 1;
  into.kept += [...claimsOf(disturbed.survey)].filter((claim) => known.has(claim)).length;
  into.undetermined += became('undetermined');
  into.silent += became('notApplicable');
}
