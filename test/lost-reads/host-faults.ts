import { answerScript } from '../../mocks/unix-output/answer-script.ts';
import type { DescribedHost } from '../../mocks/unix-output/described-host.ts';
import { scriptParts } from '../../mocks/unix-output/script-parts.ts';
import type { ScriptEnd } from '../../src/collect/ssh/exec-script.ts';
import { scriptOutcome } from '../../src/collect/ssh/script-outcome.ts';
import { defaultReadLimits, type RunScript } from '../../src/collect/types.ts';
import type { FaultKind } from './fault-kinds.ts';

/** Where one command of an answer stands in it: places in its text. */
interface Stretch {
  readonly from: number;
  readonly outputFrom: number;
  readonly outputTo: number;
  readonly to: number;
}

/** How many commands the script runs on a host that is well. */
export function commandsOf(host: DescribedHost): number {
  const script = "M='count'; P=''\n";
  return stretchesOf(answerScript(host, script) ?? '', 'count').length;
}

/** A host of which the `nth` command fails, the first being 0; nothing else is wrong with it. */
export function hostFailingAt(host: DescribedHost, nth: number, kind: FaultKind): RunScript {
  return async (script, limits) => {
    const text = typeof script === 'string' ? script : script('sh');
    const answer = answerScript(host, text) ?? '';
    const stretch = stretchesOf(answer, scriptParts(text)?.marker ?? '')[nth];
    if (stretch === undefined) throw new Error(`no command ${nth}`);
    return scriptOutcome(endOf(answer, stretch, kind), {
      where: host.facts.systemName ?? 'host',
      hostKey: 'SHA256:unchanged',
      shell: 'sh',
      limits: limits ?? defaultReadLimits,
    });
  };
}

/** A host with which nothing is wrong. */
export function soundHost(host: DescribedHost): RunScript {
  return async (script, limits) => {
    const text = typeof script === 'string' ? script : script('sh');
    const output = Buffer.from(answerScript(host, text) ?? '');
    return scriptOutcome(
      { is: 'ended', output, exitCode: 0, complaint: '' },
      { where: host.facts.systemName ?? 'host', hostKey: 'SHA256:unchanged', shell: 'sh', limits },
    );
  };
}

function stretchesOf(answer: string, marker: string): readonly Stretch[] {
  const found: Stretch[] = [];
  const pattern = new RegExp(
    `\\n${marker} open [^\\n]*\\n([^]*?)\\n${marker} words\\n[^]*?\\n${marker} close \\d+\\n`,
    'g',
  );
  for (const match of answer.matchAll(pattern)) {
    const outputFrom = answer.indexOf('\n', match.index + 1) + 1;
    found.push({
      from: match.index,
      outputFrom,
      outputTo: outputFrom + (match[1]?.length ?? 0),
      to: match.index + match[0].length,
    });
  }
  return found;
}

function endOf(answer: string, stretch: Stretch, kind: FaultKind): ScriptEnd {
  const middle = (stretch.outputFrom + stretch.outputTo) >> 1;
  const came = Buffer.from(answer.slice(0, middle));
  const whole = (output: string | Buffer): ScriptEnd => ({
    is: 'ended',
    output: Buffer.from(output),
    exitCode: 0,
    complaint: '',
  });
  const output = answer.slice(stretch.outputFrom, stretch.outputTo);
  const around = (replaced: string) =>
    answer.slice(0, stretch.outputFrom) + replaced + answer.slice(stretch.outputTo);
  switch (kind) {
    case 'refused':
      return whole(refusedAt(answer, stretch));
    case 'reset':
      return { is: 'lost', bytes: came.length };
    case 'hang':
      return { is: 'time', output: came, bytes: came.length };
    case 'garbage':
      return whole(
        Buffer.concat([
          Buffer.from(answer.slice(0, stretch.outputFrom)),
          garbage(output.length),
          Buffer.from(answer.slice(stretch.outputTo)),
        ]),
      );
    case 'truncation':
      return whole(came);
    case 'wrong type':
      return whole(
        around(output.replace(standingNumber, output.startsWith('[') ? '"many"' : 'many')),
      );
  }
}

/** A number that is a value of its own, not a part of a name, an address or a version. */
const standingNumber = /(?<![\w./-])(?<!(?:^|[^a-zA-Z])[\da-f]{1,4}:)\d+(?![\w.:/-])/gim;

function refusedAt(answer: string, { from, outputFrom, to }: Stretch): string {
  const opening = answer.slice(from, outputFrom);
  const marker = opening.trim().split(' ')[0];
  const ending = `\n${marker} words\npermission denied\n${marker} close 126\n`;
  return answer.slice(0, from) + opening + ending + answer.slice(to);
}

/** All byte values but the line end and the marks, in a fixed order. */
function garbage(length: number): Buffer {
  const bytes = Array.from({ length: Math.max(64, length) }, (_, at) => (at * 167 + 13) % 256);
  return Buffer.from(bytes);
}
