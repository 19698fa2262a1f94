import { randomBytes } from 'node:crypto';
import type { OpenTalk, TalkEnd } from '../collect/talk.ts';
import { framesOf, noMarks, sectionKey } from '../collect/unix/frames.ts';
import { systemKindOf } from '../collect/unix/node-reading.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { Gap } from '../facts/gap.ts';
import type { Trouble } from '../facts/trouble.ts';
import { AnswerStream, answerBytesMax } from './live-answers.ts';
import { bsdLook, linuxLook, linuxUpSeconds } from './live-host-look.ts';
import { liveScript } from './live-script.ts';
import { type LiveEnd, type LiveLook, type LiveLooks, silenceMsMax } from './live-types.ts';

/** A host to be watched over a connection that is open. */
export interface HostWatch {
  /** For messages. */
  readonly where: string;
  readonly open: OpenTalk;
  /** The host's own names of its ports. */
  readonly ports: readonly string[];
  readonly looks: number;
  readonly onLooks: (looks: LiveLooks) => void;
  readonly signal: AbortSignal;
  readonly now: () => Date;
}

/** Takes looks of a host until it is lost, its looks are done, or the signal ends it. */
export async function watchHost(watch: HostWatch): Promise<LiveEnd> {
  const marker = `hopgauge-${randomBytes(12).toString('hex')}`;
  const stop = new AbortController();
  const stream = new AnswerStream(marker);
  let trouble: Trouble | undefined;
  let looked = 0;
  const fail = (found: Trouble) => {
    trouble ??= found;
    stop.abort();
  };
  const silence = () => fail(silent(watch.where, looked));
  let late = setTimeout(silence, silenceMsMax);
  const onAbort = () => stop.abort();
  watch.signal.addEventListener('abort', onAbort, { once: true });
  if (watch.signal.aborted) stop.abort();
  const onOutput = (chunk: Uint8Array) => {
    const answers = stream.take(chunk);
    if (!answers.ok) return fail(overlong(watch.where));
    for (const answer of answers.whole) {
      clearTimeout(late);
      late = setTimeout(silence, silenceMsMax);
      looked += 1;
      const looks = looksOf(answer, marker, watch);
      if ('kind' in looks) return fail(looks);
      watch.onLooks(looks);
    }
    return undefined;
  };
  const script = liveScript({ marker, ports: watch.ports, looks: watch.looks });
  const opened = await watch.open({ script, onOutput, signal: stop.signal });
  const end = opened.ok ? await opened.talk.ended : opened.trouble;
  clearTimeout(late);
  watch.signal.removeEventListener('abort', onAbort);
  if (trouble !== undefined) return { is: 'lost', trouble };
  if (watch.signal.aborted || looked >= watch.looks) return { is: 'over' };
  return { is: 'lost', trouble: endTrouble(end, { watch, looked, stream, marker }) };
}

function looksOf(answer: Uint8Array, marker: string, watch: HostWatch): LiveLooks | Trouble {
  const framed = framesOf(answer, marker);
  const system = systemKindOf(framed);
  if (system === undefined) {
    const said = framed.sections.get(sectionKey('system'))?.output ?? '';
    return {
      kind: 'system-unknown',
      seen: `${watch.where} is no system that can be watched: uname -s says "${cleanText(said, 60)}"`,
      remedy: 'watch the other end of the link',
    };
  }
  const look = (name: string): LiveLook | Gap =>
    system === 'linux' ? linuxLook(framed, name) : bsdLook(framed, name, system);
  const notTold: Gap = { reason: 'unasked', words: `not asked of ${system}` };
  return {
    atMs: watch.now().getTime(),
    upSeconds: system === 'linux' ? linuxUpSeconds(framed) : { gap: notTold },
    ports: new Map(watch.ports.map((name) => [name, look(name)])),
  };
}

function silent(where: string, looked: number): Trouble {
  if (looked === 0) {
    return {
      kind: 'time-over',
      seen: `${where} let the user in and gave no answer within ${silenceMsMax / 1000} s`,
      remedy: 'give the account a login shell that runs `sh -s`',
    };
  }
  return {
    kind: 'no-answer',
    seen: `nothing came from ${where} for ${silenceMsMax / 1000} s`,
    remedy: 'look whether it is on, and whether the way to it was what was unplugged',
  };
}

function overlong(where: string): Trouble {
  return {
    kind: 'overlong',
    seen: `${where} printed more than ${answerBytesMax} bytes for one look`,
    remedy: 'look at what its start files print',
  };
}

interface Ended {
  readonly watch: HostWatch;
  readonly looked: number;
  readonly stream: AnswerStream;
  readonly marker: string;
}

const shellRemedy =
  'give the account a login shell that runs `sh -s`; an account with a forced command cannot watch';

function endTrouble(end: TalkEnd | Trouble, { watch, looked, stream, marker }: Ended): Trouble {
  if (typeof end === 'object') return end;
  if (end === 'ended' && looked === 0)
    return noMarks(framesOf(stream.pending, marker), shellRemedy);
  return {
    kind: 'truncated',
    seen: `the connection to ${watch.where} was lost`,
    remedy: 'look whether it is on, and whether the way to it was what was unplugged',
  };
}
