import type { TroubleKind } from '../../src/facts/trouble.ts';
import {
  at,
  betweenCommands,
  brief,
  goneJump,
  type OpenHost,
  raw,
  served,
  trustAt,
} from './host-places.ts';
import { closedDoor, deafDoor, pourTo, rawDoor, resettingDoor } from './raw-doors.ts';

/** One way in which a host fails at its door. */
export interface HostDoor {
  readonly name: string;
  /** What the audit is told; undefined: nothing is wrong. */
  readonly trouble: TroubleKind | undefined;
  /** The rule that its failure breaks, rightly; absent: none. */
  readonly breaks?: string;
  /** How the host is read through that door. */
  readonly open: OpenHost;
}

/** Each way in which a host fails at its door, and last the door with which nothing is wrong. */
export const hostDoors: readonly HostDoor[] = [
  { name: 'refuses the connection', trouble: 'refused', open: raw(closedDoor) },
  { name: 'answers no SYN', trouble: 'no-answer', open: raw(deafDoor, brief) },
  {
    name: 'accepts and says nothing',
    trouble: 'no-answer',
    open: raw(() => rawDoor(() => undefined), brief),
  },
  {
    name: 'closes at once',
    trouble: 'server-busy',
    open: raw(() => rawDoor((caller) => caller.end())),
  },
  {
    name: 'resets after the banner',
    trouble: 'server-busy',
    open: raw(() =>
      rawDoor((caller) => {
        caller.write('SSH-2.0-simulated\r\n', () => setImmediate(() => caller.resetAndDestroy()));
      }),
    ),
  },
  {
    name: 'speaks something else',
    trouble: 'not-ssh',
    open: raw(() => rawDoor((caller) => caller.end('220 office.example ready\r\n'))),
  },
  {
    name: 'greets with garbage',
    trouble: 'not-ssh',
    open: raw(() =>
      rawDoor((caller) => {
        caller.end(Buffer.from(Array.from({ length: 400 }, (_, i) => (i * 167 + 13) % 256)));
      }),
    ),
  },
  {
    name: 'greets in lines without end',
    trouble: 'not-ssh',
    open: raw(() => rawDoor((caller) => pourTo(caller, 'welcome, welcome\r\n'.repeat(1000)))),
  },
  {
    name: 'greets in one line without end',
    trouble: 'not-ssh',
    open: raw(() => rawDoor((caller) => pourTo(caller, 'welcome '.repeat(2000)))),
  },
  {
    name: 'garbles the exchange of keys',
    trouble: 'not-ssh',
    open: raw(() =>
      rawDoor((caller) => pourTo(caller, `SSH-2.0-simulated\r\n${'x'.repeat(9000)}`)),
    ),
  },
  {
    name: 'shows another host key',
    trouble: 'host-key-changed',
    breaks: 'right-machine',
    open: async (host, world) => {
      const [known, other] = [await served(host, world), await world.host()];
      trustAt(other.port, known, world);
      return at(other, world);
    },
  },
  {
    name: 'shows a key that nobody recorded',
    trouble: 'host-key-unknown',
    open: async (_, world) => at(await world.host(), world),
  },
  {
    name: 'refuses the credential',
    trouble: 'login-refused',
    open: async (host, world) =>
      at(await served(host, world, { login: { password: 'another word' } }), world),
  },
  {
    name: 'is behind a jump host that is gone',
    trouble: 'jump-failed',
    open: goneJump,
  },
  {
    name: 'lets in and runs nothing',
    trouble: 'shell-refused',
    open: async (host, world) =>
      at(await served(host, world, { vice: { is: 'refuse-exec' } }), world),
  },
  {
    name: 'closes between two commands',
    trouble: 'truncated',
    open: async (host, world) => {
      const afterBytes = betweenCommands(host);
      return at(await served(host, world, { vice: { is: 'close-mid-reply', afterBytes } }), world);
    },
  },
  {
    name: 'resets between two commands',
    trouble: 'truncated',
    open: async (host, world) => {
      const afterBytes = betweenCommands(host);
      const inner = await served(host, world, { vice: { is: 'close-mid-reply', afterBytes } });
      const door = await resettingDoor(inner.port);
      trustAt(door.port, inner, world);
      return at(door, world);
    },
  },
  {
    name: 'is well',
    trouble: undefined,
    open: async (host, world) => at(await served(host, world), world),
  },
];
