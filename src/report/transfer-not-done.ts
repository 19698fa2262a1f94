import type { TransferRun } from '../probe/run-transfer.ts';
import type { EndReport } from '../probe/transfer-types.ts';
import { meetingRemedy, meetingWords } from './transfer-meeting.ts';

interface EndNames {
  readonly from: string;
  readonly to: string;
}

/** Why a direction has no figures, and what would help. */
export interface NotDone {
  readonly seen: string;
  readonly remedy: string;
}

/** Says of a run without figures why it has none. */
export function notDone(run: TransferRun, names: EndNames): NotDone {
  const again = 'run it again';
  if (run.interrupted) return { seen: 'interrupted before anything had arrived', remedy: again };
  if (run.ok) return lostWords(run.from, run.to, names);
  const { trouble, at, missed, from, to } = run;
  if (trouble !== undefined && at !== undefined) {
    return { seen: `${names[at]}: ${trouble.seen}`, remedy: trouble.remedy };
  }
  const bare = [
    ...(from?.tool === 'nothing' ? [names.from] : []),
    ...(to?.tool === 'nothing' ? [names.to] : []),
  ];
  if (bare.length > 0) {
    return {
      seen: `${bare.join(' and ')}: neither perl with its usual modules, nor python3, nor nc is there`,
      remedy: 'measure from a host that has one of them, on the same switch',
    };
  }
  if (missed.length > 0) {
    const seen = missed.map((each) => meetingWords(each, names)).join('; ');
    return { seen, remedy: `${onlyWay(run, names)}${meetingRemedy(missed, names)}` };
  }
  return {
    seen: 'both run macOS, where a program that listens opens a dialog, so that neither is let listen',
    remedy: 'measure each of them against a host with another system',
  };
}

/** Why only one side could be let listen, where that is so. */
function onlyWay(run: Extract<TransferRun, { ok: false }>, names: EndNames): string {
  const sides = ['from', 'to'] as const;
  const mac = sides.find((side) => run[side]?.system === 'Darwin');
  if (mac !== undefined) return `${names[mac]} runs macOS and is not let listen; `;
  const small = sides.some((side) => run[side]?.tool === 'nc');
  return small ? 'with perl or python3 on both, the other could listen as well; ' : '';
}

function lostWords(from: EndReport, to: EndReport, names: EndNames): NotDone {
  const [failed, name] =
    to.failed === undefined ? [from.failed, names.from] : [to.failed, names.to];
  const seen =
    failed === undefined
      ? 'the two met, and no data arrived before the connection was lost'
      : `the two met, and ${name} then lost the connection: ${failed.why}`;
  return {
    seen,
    remedy: 'small packets pass and large ones may not: run hopgauge fit between the two',
  };
}
