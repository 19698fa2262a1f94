import { judgeOptic, type OpticVerdict } from '../../ethernet/optics.ts';
import type { SeenFact } from '../cause.ts';
import { type EndView, readFact } from '../end-view.ts';
import { errorVerdict } from '../error-view.ts';
import type { LinkSide, LinkView } from '../link-view.ts';
import { phyOfEnd } from '../phy-of-end.ts';
import { elementIds, type LinkRule } from './cause-rule.ts';

/** Light that is too weak, too strong or missing, by the module's own limits. */
export const receivedLight: LinkRule = (view) =>
  view.sides.flatMap((side) => {
    const verdict = judgePower(view, side.end, 'rx');
    if (verdict === undefined) return [];
    const dark = verdict.verdict === 'no-light';
    return [
      {
        kind: 'optics',
        proof: (dark && view.up === false) || errorsThere(view, side.end) ? 'is' : 'likely',
        what: `the light that ${side.end.id} receives, ${levelWords[verdict.verdict]}: a dirty or bent fibre, a connector, or the module at ${side.far.id}`,
        element: elementIds.module(side.end),
        for: [powerFact(side.end, 'rx', verdict), ...errorFacts(view, side.end)],
        remedy: remedyFor(verdict.verdict),
        settledBy: nextFor(side),
      } as const,
    ];
  });

/** A module that sends outside its own limits. */
export const sentLight: LinkRule = (view) =>
  view.ends.flatMap((end) => {
    const verdict = judgePower(view, end, 'tx');
    if (verdict === undefined) return [];
    return [
      {
        kind: 'optics',
        proof: 'likely',
        what: `the module in ${end.id}: the light that it sends is ${levelWords[verdict.verdict]}`,
        element: elementIds.module(end),
        for: [powerFact(end, 'tx', verdict)],
        remedy: 'replace the module',
        settledBy: `put another module of the same kind into ${end.id} and read the power again`,
      } as const,
    ];
  });

const levelWords = { low: 'too weak', high: 'too strong', 'no-light': 'none at all' } as const;

type Wrong = OpticVerdict & { readonly verdict: keyof typeof levelWords };

function judgePower(view: LinkView, end: EndView, direction: 'rx' | 'tx'): Wrong | undefined {
  const { facts } = end;
  const powerDbm = direction === 'rx' ? facts.rxPowerDbm : facts.txPowerDbm;
  if (powerDbm === undefined) return undefined;
  const low = direction === 'rx' ? facts.rxPowerLowDbm : facts.txPowerLowDbm;
  const high = direction === 'rx' ? facts.rxPowerHighDbm : facts.txPowerHighDbm;
  const phy = phyOfEnd(view, end);
  const found = judgeOptic({
    direction,
    powerDbm,
    thresholds: {
      ...(low === undefined ? {} : { lowWarningDbm: low }),
      ...(high === undefined ? {} : { highWarningDbm: high }),
    },
    ...(phy === undefined ? {} : { phy }),
  });
  return isWrong(found) ? found : undefined;
}

function isWrong(verdict: OpticVerdict): verdict is Wrong {
  return Object.hasOwn(levelWords, verdict.verdict);
}

function powerFact(end: EndView, direction: 'rx' | 'tx', verdict: Wrong): SeenFact {
  const fact = direction === 'rx' ? 'rxPowerDbm' : 'txPowerDbm';
  const does = direction === 'rx' ? 'receives' : 'sends';
  const limit =
    verdict.limitDbm === undefined ? '' : `, limit ${verdict.limitDbm} dBm (${verdict.against})`;
  return readFact(end, `${end.id} ${does} ${end.facts[fact]} dBm${limit}`, fact);
}

function errorsThere(view: LinkView, end: EndView): boolean {
  return errorVerdict(view, end)?.verdict === 'worse-than-limit';
}

function errorFacts(view: LinkView, end: EndView): readonly SeenFact[] {
  if (!errorsThere(view, end)) return [];
  return [readFact(end, `${end.id} receives more errors than its PHY may make`, 'rxCrcErrors')];
}

function remedyFor(verdict: keyof typeof levelWords): string {
  if (verdict === 'high') return 'put an attenuator between, or modules for a shorter reach';
  return 'clean and reseat the connectors, then replace the cords, then the module that sends';
}

function nextFor({ end, far }: LinkSide): string {
  const sends = far.facts.txPowerDbm;
  const known = sends === undefined ? '' : ` (it says ${sends} dBm)`;
  return `compare with what ${far.id} sends${known}: clean the connectors at ${end.id} first and read the received power again`;
}
