import type { GapReason } from '../facts/gap.ts';
import type { Finding } from '../judge/types.ts';
import type { Site, SiteNode } from '../site/types.ts';
import type { CauseGroup } from './cause-groups.ts';
import { factWords, gapWords } from './fact-words.ts';
import { alsoWords } from './finding-lines.ts';
import { clean, wrap } from './layout.ts';
import type { DrawOptions } from './measure.ts';

const gapsShownMax = 3;
const nodesShownMax = 50;

/** One thing that could not be seen, and all that cannot be judged for it. */
export interface Unseen {
  readonly title: string;
  readonly why: string;
  readonly remedy: string;
  readonly lead: Finding;
  readonly others: readonly Finding[];
}

/** What could not be seen; causes that are the same in words are one to the reader. */
export function unseenThings(groups: readonly CauseGroup[], site: Site): Unseen[] {
  const nodes = nodesByCause(site);
  const things = new Map<string, { readonly thing: Unseen; readonly others: Finding[] }>();
  for (const group of groups) {
    const thing = unseenThing(group, nodes.get(group.cause));
    const key = `${thing.why}\n${thing.remedy}`;
    const before = things.get(key);
    if (before === undefined) things.set(key, { thing, others: [...thing.others] });
    else for (const other of [thing.lead, ...thing.others]) before.others.push(other);
  }
  return [...things.values()].map(({ thing, others }) => ({ ...thing, others }));
}

/** What one cause keeps from being seen; `node` is the one that the cause names, if it names one. */
export function unseenThing({ lead, others }: CauseGroup, node: SiteNode | undefined): Unseen {
  const trouble = node === undefined ? undefined : troubleOf(node);
  if (node === undefined || trouble === undefined) {
    return {
      title: unjudgedWords(lead),
      why: gapsOf(lead),
      remedy: remediesOf(lead),
      lead,
      others,
    };
  }
  const title = `${clean(node.declared.name)}: not read`;
  return { title, why: trouble.seen, remedy: trouble.remedy, lead, others };
}

/** One thing that could not be seen: what, why, and what would let it be seen. */
export function unseenLines(thing: Unseen, options: DrawOptions): string[] {
  const { title, why, remedy, lead, others } = thing;
  const { width, verbose, paint } = options;
  const [first = '', ...rest] = wrap(`  ${lead.severity}: `, title, width);
  const also = alsoWords(others, verbose);
  return [
    paint.strong(first),
    ...rest.map(paint.strong),
    ...wrap('    why   ', why, width),
    ...wrap('    then  ', remedy, width),
    ...(also === '' ? [] : wrap('    also  ', also, width)),
  ];
}

/** Nodes that could not be read and that no finding speaks of. */
export function unreadNodeLines(
  site: Site,
  groups: readonly CauseGroup[],
  options: DrawOptions,
): string[] {
  const nodes = nodesByCause(site);
  const spoken = new Set(
    groups.flatMap((group) => [
      nodes.get(group.cause)?.declared.name,
      ...[group.lead, ...group.others].map(({ subject }) => subject.id),
    ]),
  );
  const unread = site.nodes.flatMap((node) => {
    const trouble = troubleOf(node);
    return trouble === undefined || spoken.has(node.declared.name) ? [] : [{ node, trouble }];
  });
  const shown = options.verbose ? unread : unread.slice(0, nodesShownMax);
  const left = unread.length - shown.length;
  return [
    ...shown.flatMap(({ node, trouble }) => {
      const asleep = node.declared.sleeps ? ' (it may be asleep)' : '';
      const title = `${clean(node.declared.name)}: not read${asleep}`;
      return [
        ...wrap('  ', title, options.width).map(options.paint.strong),
        ...wrap('    why   ', trouble.seen, options.width),
        ...wrap('    then  ', trouble.remedy, options.width),
      ];
    }),
    ...(left === 0 ? [] : [`  and ${left} more nodes not read; --verbose shows all`]),
  ];
}

/** Nodes by the cause that names them, as `node vault`. */
function nodesByCause(site: Site): ReadonlyMap<string, SiteNode> {
  return new Map(site.nodes.map((node) => [`node ${node.declared.name}`, node]));
}

const notSurveyed = {
  seen: 'it is not in the survey',
  remedy: 'save a new survey with hopgauge survey --out FILE, or audit without --survey',
};

/** What kept a node from being read, with the attempt; undefined: some access gave an answer. */
export function troubleOf(node: SiteNode): { seen: string; remedy: string } | undefined {
  if (node.survey === undefined && node.declared.unread === undefined) return notSurveyed;
  const readings = node.survey?.readings ?? [];
  if (readings.length === 0 || readings.some(({ trouble }) => trouble === undefined)) {
    return undefined;
  }
  const troubles = readings.flatMap(({ by, at, trouble }) =>
    trouble === undefined ? [] : [{ by, at, trouble }],
  );
  return {
    seen: troubles.map(({ by, at, trouble }) => clean(`${by} ${at}: ${trouble.seen}`)).join('; '),
    remedy: [...new Set(troubles.map(({ trouble }) => clean(trouble.remedy)))].join('; '),
  };
}

function unjudgedWords({ subject, rule }: Finding): string {
  return clean(`${subject.id}: ${rule} cannot be judged`);
}

/** What would let a fact be seen. The advice of the rule would mend what may not be broken. */
const gapRemedies = {
  unsupported: 'the node has no such value: say it in the intent, or measure with hopgauge fit',
  denied: 'let the account read it, or give the node another access in the intent',
  unreadable: 'run it again; if it stays so, report it with the output of --verbose',
  truncated: 'run it again; see what keeps the node busy if it stays so',
  unasked:
    'see that the node has an access, that its name is known here, and that its links are declared',
  down: 'bring the link up, or let sleeping nodes wake, and run it again',
  unreachable: 'see what keeps the node from answering, and run it again',
  doubtful: 'look at the port itself; a rule of your own can leave such ports out with `when`',
} as const satisfies Record<GapReason, string>;

function remediesOf({ evidence, advice }: Finding): string {
  const remedies = evidence.flatMap(({ fact, gap }) => (gap ? [remedyOf(fact, gap.reason)] : []));
  if (remedies.length === 0) return clean(advice ?? 'see the rule');
  return [...new Set(remedies)].join('; ');
}

const ofPacketSize = /mtu|passes/i;
const mtuRemedy =
  'say mtuCounts or believe: [mtu] of the node in the intent, or measure with hopgauge fit';

function remedyOf(fact: string, reason: GapReason): string {
  return reason === 'doubtful' && ofPacketSize.test(fact) ? mtuRemedy : gapRemedies[reason];
}

function gapsOf(finding: Finding): string {
  const absent = finding.evidence.flatMap(({ fact, gap }) => (gap ? [{ fact, gap }] : []));
  const gaps = absent.map(({ fact, gap }) => {
    const words = clean(gap.words) || gapWords[gap.reason];
    return absent.length === 1 ? words : `${factWords(fact)}: ${words}`;
  });
  const left = gaps.length - gapsShownMax;
  if (gaps.length === 0) return 'a fact that the rule needs is not known';
  return [...gaps.slice(0, gapsShownMax), ...(left > 0 ? [`and ${left} more`] : [])].join('; ');
}
