import type { DeclaredLink } from '../../intent/types.ts';
import type { SitePath } from '../../site/types.ts';
import type { ChangeRemark } from '../types.ts';
import { goodputRemarks } from './goodput-remarks.ts';
import { impossible } from './remark.ts';
import { isShort, type UnreadNeed } from './unread-needs.ts';

/** Whether the declared links join one pair of ends, and carry what is declared of their path. */
export function pairRemarks(
  path: SitePath,
  needs: readonly UnreadNeed[],
  linkOf: (id: string) => DeclaredLink | undefined,
): ChangeRemark[] {
  const { facts } = path.subject;
  if (facts['connected'] === false) return [notJoined(path)];
  const bytes = facts['declaredMtuBytes'];
  if (typeof bytes !== 'number') return [];
  return [...frames(path, bytes, needs), ...goodputRemarks(path, bytes, linkOf)];
}

function notJoined({ id, declared }: SitePath): ChangeRemark {
  const segments = declared.over.length > 1 ? ', and routes: true at the node between' : '';
  return impossible(
    id,
    'is not joined by the declared links',
    `declare the links between its ends${segments}`,
  );
}

/** By links that name no segment; what a segment asks of an unread node is told of that node. */
function frames(
  { id, declared, hops }: SitePath,
  bytes: number,
  needs: readonly UnreadNeed[],
): ChangeRemark[] {
  const { over } = declared;
  const told = new Set(
    needs
      .filter((need) => isShort(need) && (over.length === 0 || over.includes(need.segment)))
      .map(({ node }) => node.name),
  );
  const small = new Map(
    hops.flatMap(({ port, clearance }) =>
      (clearance.atMostBytes ?? bytes) < bytes && !told.has(port.node)
        ? [[port.node, clearance.atMostBytes]]
        : [],
    ),
  );
  return [...small].map(([node, most]) =>
    impossible(
      id,
      `is declared at ${bytes} bytes, and ${node} passes at most ${most} by its declared frame`,
      `replace ${node}, or declare ${most}`,
    ),
  );
}
