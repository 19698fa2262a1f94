import { randomBytes } from 'node:crypto';
import type { OpenTalk, Talk } from '../collect/talk.ts';
import { withinTime } from '../collect/within-time.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { Trouble } from '../facts/trouble.ts';
import { lineCutter } from './line-cutter.ts';
import { addTransferLine, silentEnd } from './transfer-lines.ts';
import { transferProgram } from './transfer-program.ts';
import { starterScript } from './transfer-starter.ts';
import type { EndReport, TransferRole } from './transfer-types.ts';

/** One end of a transfer, while it lives. */
export interface LiveEnd {
  readonly report: () => EndReport;
  /** Makes it what it is to be in this transfer; it must have told its tool. */
  readonly give: (role: Omit<TransferRole, 'marker'>) => void;
  /** Waits until its report is as wanted, it has ended, or the time is over; gives the report. */
  readonly until: (wanted: (report: EndReport) => boolean, ms: number) => Promise<EndReport>;
  readonly stop: () => void;
  readonly isOver: () => boolean;
  /** What it said on standard error, cleaned. */
  readonly complaint: () => string;
}

/** A host that waits to be told its part, or why there is none. */
export type LiveEndOutcome =
  | { readonly ok: true; readonly end: LiveEnd }
  | { readonly ok: false; readonly trouble: Trouble };

interface Opening {
  readonly open: OpenTalk;
  readonly wholeMs: number;
  readonly signal: AbortSignal;
}

/** Time for a host to say what it has. */
const startMsMax = 10_000;
const complaintLengthMax = 200;

/** Opens a talk with a host and waits until it has said what it has for a transfer. */
export async function openEnd({ open, wholeMs, signal }: Opening): Promise<LiveEndOutcome> {
  const marker = `hopgauge-${randomBytes(12).toString('hex')}`;
  let report = silentEnd;
  let noise = '';
  let over = false;
  const waiting = new Set<() => void>();
  const wake = () => {
    for (const each of [...waiting]) each();
  };
  const onLine = (line: string) => {
    if (!report.begun && noise === '') noise = cleanText(line, complaintLengthMax);
    report = addTransferLine(report, line, marker);
    wake();
  };
  const bound = withinTime(wholeMs, signal);
  const { stop } = bound;
  const add = lineCutter(onLine);
  const onOutput = (chunk: Uint8Array) => {
    if (!add(chunk)) stop();
  };
  const onEnd = () => {
    bound.clear();
    over = true;
    wake();
  };
  const opened = await open({ script: starterScript(marker), onOutput, signal: bound.signal });
  if (!opened.ok) {
    onEnd();
    return opened;
  }
  const { talk } = opened;
  talk.ended.then(onEnd, onEnd);
  const until: LiveEnd['until'] = (wanted, ms) =>
    new Promise((resolve) => {
      const look = () => {
        if (!wanted(report) && !over) return;
        done();
      };
      const done = () => {
        clearTimeout(timer);
        waiting.delete(look);
        resolve(report);
      };
      const timer = setTimeout(done, ms);
      waiting.add(look);
      look();
    });
  await until(({ tool, ended }) => tool !== undefined || ended, startMsMax);
  if (report.tool === undefined) {
    stop();
    return { ok: false, trouble: noStart(noise, talk) };
  }
  return {
    ok: true,
    end: {
      report: () => report,
      give: (role) => {
        const { tool } = report;
        if (tool === undefined || tool === 'nothing') throw new Error('an end without a tool');
        talk.send(transferProgram(tool, { ...role, marker }));
      },
      until,
      stop,
      isOver: () => over,
      complaint: () => cleanText(talk.complaint(), complaintLengthMax),
    },
  };
}

function noStart(noise: string, talk: Talk): Trouble {
  const words = noise === '' ? cleanText(talk.complaint(), complaintLengthMax) : noise;
  return {
    kind: 'no-marks',
    seen: words === '' ? 'no answer to the script' : `not an answer to the script: "${words}"`,
    remedy: 'give the account a login shell that runs `sh -s`; a forced command cannot transfer',
  };
}
