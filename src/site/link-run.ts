import { type RunReach, reachOfRun } from '../ethernet/run-reach.ts';
import { cleanText } from '../facts/clean-text.ts';
import type { DeclaredLink } from '../intent/types.ts';
import { mediumOfName } from './phy-of-port.ts';
import { type Draft, gapOf, put } from './provenance.ts';
import type { PortRef } from './site-index.ts';

/** Enters what the declared run of a link is good for; the intent alone tells. */
export function putRun(draft: Draft, declared: DeclaredLink): void {
  const { run, speedMbps } = declared;
  const reach = reachOfRun(run, speedMbps === undefined ? undefined : { rateMbps: speedMbps });
  if (reach === undefined) return;
  put(draft, 'runReachMbps', reach.ratedMbps);
  put(draft, 'runConditionalMbps', reach.conditionalMbps);
  put(draft, 'runLengthMetres', reach.lengthMetres);
  put(
    draft,
    'runDoubts',
    reach.doubts.map((doubt) => cleanText(doubt)),
  );
  put(draft, 'runLimitText', limitText(declared, reach));
  const modules = run.filter(({ kind }) => kind === 'module');
  const apart = modules.length > 0 && refusedAtModule(declared, reach);
  if (modules.length > 0) put(draft, 'modulesAgree', !apart);
  if (!apart) putFit(draft, reach, `link ${declared.id}`);
}

function limitText({ run }: DeclaredLink, { limitedBy }: RunReach): string | undefined {
  const piece = limitedBy === undefined ? undefined : run[limitedBy.pieceIndex];
  return piece && limitedBy && cleanText(`${piece.text}: ${limitedBy.reason}`);
}

function refusedAtModule({ run }: DeclaredLink, { standing, limitedBy }: RunReach): boolean {
  return standing === 'refused' && run[limitedBy?.pieceIndex ?? 0]?.kind === 'module';
}

function putFit(draft: Draft, reach: RunReach, cause: string): void {
  if (reach.carriesWanted === 'assured') put(draft, 'runFits', true);
  else if (reach.carriesWanted === 'no') put(draft, 'runFits', false);
  // What may carry it and is seen to do so needs no proof.
  else if (reach.carriesWanted === 'conditional' && draft.facts['runsAsDeclared'] !== true) {
    const words = [draft.facts['runLimitText'] ?? [], ...reach.doubts].flat().join('; ');
    put(draft, 'runFits', undefined, gapOf('doubtful', cleanText(words), cause));
  }
}

/** Enters whether what the ends say of their medium is that of the declared run. */
export function putMedium(draft: Draft, declared: DeclaredLink, ends: readonly PortRef[]): void {
  const declaredMedium = reachOfRun(declared.run)?.medium;
  const said = ends.flatMap(({ id, survey }) => {
    const { phyText, moduleText } = survey?.facts ?? {};
    const text = [phyText, moduleText].find((each) => mediumOfName(each) !== undefined);
    return text === undefined ? [] : [{ medium: mediumOfName(text), words: `${id} ${text}` }];
  });
  if (declaredMedium === undefined || said.length === 0) return;
  const same = said.every(({ medium }) => medium === declaredMedium);
  put(draft, 'mediumAsDeclared', same);
  put(
    draft,
    'mediumSaid',
    said.map(({ words }) => cleanText(words)),
  );
}
