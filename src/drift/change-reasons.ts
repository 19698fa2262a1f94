import { restartedSince } from '../facts/restarted.ts';
import type { NodeSurvey, PortSurvey } from '../facts/survey.ts';
import type { Change, FactChange, KnownNode } from './known-node.ts';

interface Nights {
  readonly known: KnownNode;
  readonly now: NodeSurvey;
  readonly at: string;
}

/** Settings that a system applies at its start and that a person set by hand loses there. */
const settings = new Set([
  'mtuBytes',
  'mtuConfiguredBytes',
  'driverMtuBytes',
  'autoNegotiation',
  'advertisedModes',
  'speedMbps',
  'duplex',
  'adminUp',
  'addresses',
  'lowerPorts',
  'aggregateMode',
]);

/** What shows that another machine stands there. */
const identities: readonly string[] = ['hostKey', 'engineId', 'sysObjectId', 'systemKind'];

/** Gives each change what explains it, where other facts of the same night tell. */
export function changeReasons(changes: readonly Change[], nights: Nights): readonly Change[] {
  const replaced = replacedWhy(changes);
  const restarted = restartedSince(nights.known, nights.now, nights.at) === true;
  const updated = updateWords(changes);
  return changes.map((change) => {
    const why =
      replaced !== undefined && !isIdentity(change)
        ? replaced
        : (bounceWhy(change, nights) ?? restartWhy(change, { restarted, updated }));
    return why === undefined ? change : { ...change, why };
  });
}

function isIdentity(change: Change): boolean {
  return change.kind === 'fact' && change.port === undefined && identities.includes(change.fact);
}

function replacedWhy(changes: readonly Change[]): string | undefined {
  const signs = changes.filter(isIdentity).map((change) => (change as FactChange).fact);
  return signs.length === 0
    ? undefined
    : `another machine answers there now (${signs.join(', ')} changed)`;
}

/** Words on the new software of a node, where it has some. */
function updateWords(changes: readonly Change[]): string | undefined {
  for (const fact of ['osVersion', 'systemText']) {
    const found = changes.find(
      (change): change is FactChange =>
        change.kind === 'fact' && change.port === undefined && change.fact === fact,
    );
    if (found !== undefined) return `to ${String(found.is)}`;
  }
  return undefined;
}

function restartWhy(
  change: Change,
  { restarted, updated }: { readonly restarted: boolean; readonly updated: string | undefined },
): string | undefined {
  const isSetting =
    change.kind === 'fact' && change.port !== undefined && settings.has(change.fact);
  if (!isSetting && change.kind === 'fact') return undefined;
  if (updated !== undefined) return `the system was updated between (${updated})`;
  if (!restarted) return undefined;
  return isSetting
    ? 'the node restarted between: the old value was not persistent, or the new one waited for the restart'
    : 'the node restarted between';
}

/** Down and up again are two changes of carrier (common practice: many drivers reset the PHY). */
const bounceChanges = 2;

function bounceWhy(change: Change, { known, now }: Nights): string | undefined {
  if (change.kind !== 'fact' || change.fact !== 'mtuBytes') return undefined;
  const find = ({ ports }: NodeSurvey): PortSurvey | undefined =>
    ports.find(({ name }) => name === change.port);
  const before = find(known.survey)?.facts.carrierChanges;
  const after = find(now)?.facts.carrierChanges;
  if (before === undefined || after === undefined || after - before !== bounceChanges)
    return undefined;
  return 'the link went down and up once, as many drivers do when the MTU is set';
}
