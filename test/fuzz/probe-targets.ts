import { renderLinux } from '../../mocks/unix-output/render-linux.ts';
import { renderMacos } from '../../mocks/unix-output/render-macos.ts';
import { framesOf } from '../../src/collect/unix/frames.ts';
import { bsdLook, linuxLook, linuxUpSeconds } from '../../src/probe/live-host-look.ts';
import { addTransferLine, silentEnd } from '../../src/probe/transfer-lines.ts';
import { plot1, vault } from '../collect/unix/described.ts';
import { mutateText } from './mutate.ts';
import type { FuzzTarget } from './try-target.ts';

const marker = 'm';

/** What an end of a transfer says, once of each kind. */
const ended = [
  ...['begin 1', 'system Linux', 'with perl', 'port 48529', 'echo 240', 'sent 2999471 72000000'],
  'idle again=0 busy=0 buffer=0 bytes=0 least=5 mss=8948 resent=0 rtt=12 stamps=1 window=0',
  ...['tick 1000 24000000 - 0', 'tick 2000 48000000 132 0', 'got 2999471 72000000 whole'],
  'cpu 370 997 998 2',
  'flow again=0 busy=0 buffer=0 bytes=9 mss=8948 resent=0 rtt=12 stamps=1 window=0',
  ...['dd 72000000 bytes (72 MB) copied, 3.1 s', 'ss bytes_retrans:0 mss:8948 rtt:0.3/0.1'],
  ...['failed refused', 'end'],
].map((line) => `${marker} ${line}`);

const pieces = ['bytes=-1', 'bytes=1e400', 'rtt=NaN', 'us=0', ' ', '\n', '=', '__proto__=1'];

/** What reads the answers to active tests. */
export const probeTargets: readonly FuzzTarget[] = [
  {
    name: 'lines of a transfer',
    tryOne: (chance) => {
      const input = mutateText(chance, [ended.join('\n')], pieces);
      const gave = input
        .split('\n')
        .reduce((report, line) => addTransferLine(report, line, marker), silentEnd);
      return { input, gave };
    },
  },
  {
    name: 'looks at a port',
    tryOne: (chance) => {
      const seeds = [renderLinux(vault, marker, []), renderMacos(plot1, marker, [])];
      const input = mutateText(chance, seeds, pieces);
      const framed = framesOf(Buffer.from(input), marker);
      return {
        input,
        gave: [linuxLook(framed, 'eth4'), bsdLook(framed, 'en7', 'macos'), linuxUpSeconds(framed)],
      };
    },
  },
];
