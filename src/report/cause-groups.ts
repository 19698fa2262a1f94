import { type Finding, severities } from '../judge/types.ts';

/** Findings with one cause: one to the reader. */
export interface CauseGroup {
  readonly cause: string;
  /**
   * Broken before undetermined before waived; then what is said of a path, since it tells what
   * breaks for whom; then the gravest; then what is said of a link, since it names the element where
   * its ports see the symptom; else in the order of the judgement.
   */
  readonly lead: Finding;
  readonly others: readonly Finding[];
}

const verdictOrder = { broken: 0, undetermined: 1, waived: 2 } as const;

/** Groups findings by cause, in the order in which each cause first appears. */
export function causeGroups(findings: readonly Finding[]): CauseGroup[] {
  const byCause = new Map<string, Finding[]>();
  for (const finding of findings) {
    const group = byCause.get(finding.cause);
    if (group === undefined) byCause.set(finding.cause, [finding]);
    else group.push(finding);
  }
  return [...byCause].flatMap(([cause, group]) => {
    const ordered = group.toSorted((a, b) => rank(a) - rank(b));
    const [lead, ...others] = ordered;
    return lead === undefined ? [] : [{ cause, lead, others }];
  });
}

/** Digits from the weightiest: verdict, path or not, severity, link or not. */
function rank({ verdict, subject, severity }: Finding): number {
  const digits = [
    verdictOrder[verdict],
    Number(subject.kind !== 'path'),
    severities.indexOf(severity),
    Number(subject.kind !== 'link'),
  ];
  return digits.reduce((sum, digit) => sum * severities.length + digit, 0);
}
