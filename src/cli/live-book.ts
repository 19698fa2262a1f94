import type { Trouble } from '../facts/trouble.ts';
import type { NodeEvent } from '../probe/keep-watching.ts';
import { freshPort, nextLook, type PortState } from '../probe/live-changes.ts';
import { restartedBetween } from '../probe/live-rate.ts';
import type { LiveLooks, PortChange } from '../probe/live-types.ts';
import { clean } from '../report/layout.ts';
import type { BoardPort } from '../report/live-board.ts';
import type { LiveNode, LivePort } from './live-targets.ts';

/** What happened with a node itself. */
export interface NodeNews {
  readonly atMs: number;
  readonly change: 'lost' | 'back' | 'restarted';
  readonly words: string;
  readonly trouble?: Trouble;
}

/** One thing to tell. */
export type News =
  | { readonly is: 'port'; readonly port: LivePort; readonly change: PortChange }
  | { readonly is: 'node'; readonly node: string; readonly news: NodeNews };

/** What is known of all ports of a run. It keeps, and prints nothing. */
export interface LiveBook {
  /** Takes what happened with a node, and gives what there is to tell of it. */
  readonly take: (node: LiveNode, event: NodeEvent) => readonly News[];
  readonly ports: () => readonly BoardPort[];
  /** Whether any port was ever there to be looked at. */
  readonly looked: () => boolean;
}

interface NodeState {
  lost?: { readonly atMs: number; readonly seen: string };
  looks?: LiveLooks;
}

/** An empty book for the nodes of a run. */
export function liveBook(nodes: readonly LiveNode[]): LiveBook {
  const states = new Map<string, PortState>();
  const nodeStates = new Map<string, NodeState>(nodes.map(({ name }) => [name, {}]));
  const stateOf = ({ id }: LivePort) => states.get(id) ?? freshPort;
  const take = (node: LiveNode, event: NodeEvent): readonly News[] => {
    const known = nodeStates.get(node.name) ?? {};
    nodeStates.set(node.name, known);
    if (event.is === 'lost') {
      known.lost ??= { atMs: event.atMs, seen: event.trouble.seen };
      return [{ is: 'node', node: node.name, news: lostNews(event) }];
    }
    const { looks } = event;
    const told = nodeNews(known, looks).map(
      (news): News => ({ is: 'node', node: node.name, news }),
    );
    delete known.lost;
    known.looks = looks;
    const changes = node.ports.flatMap((port): News[] => {
      const look = looks.ports.get(port.name);
      if (look === undefined) return [];
      const step = nextLook(stateOf(port), looks, look);
      states.set(port.id, step.state);
      return step.changes.map((change) => ({ is: 'port', port, change }));
    });
    return [...told, ...changes];
  };
  return {
    take,
    ports: () =>
      nodes.flatMap(({ name, ports }) =>
        ports.map((port) => {
          const lost = nodeStates.get(name)?.lost;
          return {
            id: port.id,
            declared: port.declared,
            state: stateOf(port),
            ...(lost === undefined ? {} : { lost: lost.seen }),
          };
        }),
      ),
    looked: () => [...states.values()].some(({ known }) => known !== undefined),
  };
}

function lostNews({ atMs, trouble, again }: Extract<NodeEvent, { is: 'lost' }>): NodeNews {
  const next = again ? 'it is tried again' : `not tried again: ${clean(trouble.remedy)}`;
  return { atMs, change: 'lost', words: `no answer: ${clean(trouble.seen)}; ${next}`, trouble };
}

function nodeNews({ lost, looks: before }: NodeState, looks: LiveLooks): readonly NodeNews[] {
  const { atMs } = looks;
  const restarted = before !== undefined && restartedBetween(before, looks);
  const seconds = lost === undefined ? 0 : Math.round((atMs - lost.atMs) / 1000);
  return [
    ...(lost === undefined
      ? []
      : [{ atMs, change: 'back' as const, words: `answers again after ${seconds} s` }]),
    ...(restarted
      ? [{ atMs, change: 'restarted' as const, words: 'it started anew, and its counters with it' }]
      : []),
  ];
}
