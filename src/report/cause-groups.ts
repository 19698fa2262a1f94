import { type Finding, severities } from '../judge/types.ts';

/** Findings with one cause: one to the reader. */
export interface CauseGroup {
  readonly cause: string;
  /**
   * Broken before undetermined before waived; then a port that somebody switched off, since it
   * explains a far end without a link; then a cord that moved, since it explains what is not there;
   * then the gravest; then what is said of a path, since it tells what breaks for whom; then what is
   * said of a link, since it names the element where its ports see the symptom; else in the order of
   * the judgement.
   */
  readonly lead: Finding;
  readonly others: readonly Finding[];
}

const verdictOrder = { broken: 0, undetermined: 1, waived: 2 } as const;

/**
 * Groups findings by cause, in the order in which each cause first appears; among those of one
 * severity and verdict first what is said of a node, since nothing else read from it counts, then
 * what breaks a path.
 */
export function causeGroups(findings: readonly Finding[]): CauseGroup[] {
  const byCause = new Map<string, Finding[]>();
  for (const finding of findings) {
    const group = byCause.get(finding.cause);
    if (group === undefined) byCause.set(finding.cause, [finding]);
    else group.push(finding);
  }
  const groups = [...byCause].flatMap(([cause, group]) => {
    const ordered = group.toSorted((a, b) => rank(a) - rank(b));
    const [lead, ...others] = ordered;
    return lead === undefined ? [] : [{ cause, lead, others }];
  });
  return groups
    .map((group) => ({ group, at: placeOf(byCause.get(group.cause) ?? []) }))
    .sort((a, b) => a.at - b.at)
    .map(({ group }) => group);
}

/** Digits from the weightiest: severity, verdict, and what it is about. */
function placeOf(group: readonly Finding[]): number {
  const [first] = group;
  if (first === undefined) return 0;
  const alike = group.filter(({ verdict }) => verdict === first.verdict);
  const about = (kind: Finding['subject']['kind']) =>
    alike.some(({ subject }) => subject.kind === kind);
  const rankOfSubject = about('node') ? 0 : about('path') ? 1 : 2;
  return (severities.indexOf(first.severity) * 3 + verdictOrder[first.verdict]) * 3 + rankOfSubject;
}

/** Digits from the weightiest: verdict, switched off, moved, severity, path, link. */
function rank(finding: Finding): number {
  const { verdict, subject, severity } = finding;
  const digits = [
    verdictOrder[verdict],
    Number(!isSwitchedOff(finding)),
    Number(!isMoved(finding)),
    severities.indexOf(severity),
    Number(subject.kind !== 'path'),
    Number(subject.kind !== 'link'),
  ];
  return digits.reduce((sum, digit) => sum * severities.length + digit, 0);
}

function isMoved({ evidence }: Finding): boolean {
  return evidence.some(
    ({ fact, value }) =>
      (fact === 'port.neighbourDeclared' && value === false) ||
      (fact === 'port.farEndElsewhere' && value === true),
  );
}

function isSwitchedOff({ evidence }: Finding): boolean {
  return evidence.some(({ fact, value }) => fact === 'port.adminUp' && value === false);
}
