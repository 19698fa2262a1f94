import { rateWords } from '../../ethernet/run-brake.ts';
import { type RunReach, reachOfRun } from '../../ethernet/run-reach.ts';
import type { DeclaredLink } from '../../intent/types.ts';
import type { ChangeRemark } from '../types.ts';
import { caution, impossible, unknown } from './remark.ts';

/** Whether the run of a link and the modules at its ends are good for what is declared of it. */
export function linkRemarks(link: DeclaredLink): ChangeRemark[] {
  const { id, run, speedMbps } = link;
  const reach = reachOfRun(run, speedMbps === undefined ? undefined : { rateMbps: speedMbps });
  return [
    ...(reach === undefined ? [] : reachRemarks(link, reach)),
    ...(speedMbps === undefined ? [unknown(id, 'has no speed declared', 'declare the speed')] : []),
    ...(run.length === 0 ? [unknown(id, 'has no run declared', 'declare the run')] : []),
  ];
}

function reachRemarks(link: DeclaredLink, reach: RunReach): ChangeRemark[] {
  const cautions = reach.cautions.map((words) => lookAt(link, words));
  if (reach.standing === 'refused') return [refused(link, reach), ...cautions];
  if (link.speedMbps === undefined)
    return reach.standing === 'out-of-reach'
      ? [
          impossible(
            link.id,
            `has a run for which no Ethernet known here is specified${because(link, reach)}`,
            'replace that piece of the run',
          ),
          ...cautions,
        ]
      : cautions;
  if (reach.carriesWanted === 'no') return [outOfReach(link, reach), ...cautions];
  if (reach.carriesWanted === 'assured')
    return [...doubtsThatMatter(reach).map((words) => lookAt(link, words)), ...cautions];
  const words = new Set([limitWords(link, reach) ?? [], ...reach.doubts].flat());
  return [
    unknown(
      link.id,
      `may or may not reach ${link.speedMbps} Mb/s: ${[...words].join('; ')}`,
      'declare what is left open, or a run and modules that are sure to do',
    ),
    ...cautions,
  ];
}

/** On what a rate above the declared one would depend, which `reachOfRun` tells as well, is no matter. */
function doubtsThatMatter({ doubts, conditionalMbps }: RunReach): readonly string[] {
  if (conditionalMbps === undefined) return doubts;
  return doubts.filter((words) => !words.startsWith(`${rateWords(conditionalMbps)} over `));
}

function refused(link: DeclaredLink, reach: RunReach): ChangeRemark {
  const reason = because(link, reach);
  if (!limitedAtModule(link, reach))
    return impossible(
      link.id,
      `has pieces that cannot be joined${reason}`,
      'take that piece out of the run',
    );
  const types = new Set(link.run.flatMap(({ moduleType }) => moduleType ?? []));
  return types.size > 1
    ? impossible(
        link.id,
        `has modules that do not go together${reason}`,
        'use modules of one kind, made for the cable between them',
      )
    : impossible(
        link.id,
        `has a module that does not suit its run${reason}`,
        'use a module that is made for this cable, or another cable',
      );
}

function outOfReach(link: DeclaredLink, reach: RunReach): ChangeRemark {
  const declared = `is declared at ${link.speedMbps} Mb/s`;
  return limitedAtModule(link, reach)
    ? impossible(
        link.id,
        `${declared}, and its module cannot do that${because(link, reach)}`,
        'use a module of that speed, or declare a lower speed',
      )
    : impossible(
        link.id,
        `${declared}, and its run does not reach that${because(link, reach)}`,
        'replace that piece of the run, or declare a lower speed',
      );
}

function lookAt({ id }: DeclaredLink, words: string): ChangeRemark {
  return caution(id, `is to be looked at: ${words}`);
}

function limitedAtModule({ run }: DeclaredLink, { limitedBy }: RunReach): boolean {
  return limitedBy !== undefined && run[limitedBy.pieceIndex]?.kind === 'module';
}

function because(link: DeclaredLink, reach: RunReach): string {
  const words = limitWords(link, reach);
  return words === undefined ? '' : ` (${words})`;
}

function limitWords({ run }: DeclaredLink, { limitedBy }: RunReach): string | undefined {
  const piece = limitedBy === undefined ? undefined : run[limitedBy.pieceIndex];
  return piece && limitedBy && `${piece.text}: ${limitedBy.reason}`;
}
