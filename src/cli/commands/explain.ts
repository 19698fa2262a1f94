import { planSurvey } from '../../collect/plan.ts';
import { explainTarget } from '../../diagnose/explain-target.ts';
import { findTarget, type Target } from '../../diagnose/find-target.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { explainJson } from '../../report/explain-json.ts';
import { explainText } from '../../report/explain-text.ts';
import { clean } from '../../report/layout.ts';
import { redactSite } from '../../report/redact.ts';
import { buildSite } from '../../site/build-site.ts';
import type { Site } from '../../site/types.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import type { ExplainOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey, takeSurvey } from '../take-survey.ts';
import { textLook } from '../write-result.ts';

/**
 * Says why a node, port, link, path or segment is as it is. It judges no rule, so its status is 0
 * whatever it finds.
 */
export async function explain(name: string, options: ExplainOptions, io: Io): Promise<number> {
  const intent = await requireIntent(options.intent, io);
  // Before anything is read: a misspelt name must not cost a round through the site.
  const declared = buildSite(intent, undefined, { strict: false });
  const known = findTarget(declared, name);
  if (!known.ok && !mayBePortOfNode(declared, name)) throw unknownTarget(name, known.nearest);
  if (options.showCommands === true) return showCommands(planSurvey(intent), io);
  const survey =
    options.survey === undefined
      ? await takeSurvey(planSurvey(intent), io, { quiet: options.quiet === true })
      : await savedSurvey(options.survey, io);
  const site = buildSite(intent, survey, { strict: false });
  const target = requireTarget(site, name);
  const shown = options.redact === true ? redactSite(site, survey) : site;
  const explained = explainTarget(shown, target);
  io.stdout.write(
    options.format === 'json'
      ? explainJson(explained, survey)
      : explainText(explained, textLook(undefined, io)),
  );
  return exitStatuses.met;
}

/** A port that only a reading knows: a layer, or the node's own name of an alias. */
function mayBePortOfNode(site: Site, name: string): boolean {
  const node = name.includes(':') ? name.slice(0, name.indexOf(':')) : undefined;
  return site.nodes.some(({ declared }) => declared.name === node);
}

function requireTarget(site: Site, name: string): Target {
  const found = findTarget(site, name);
  if (!found.ok) throw unknownTarget(name, found.nearest);
  return found.target;
}

function unknownTarget(name: string, nearest: string | undefined): RunFault {
  const shown = clean(name).slice(0, 80);
  const remedy =
    nearest === undefined
      ? 'name a node, node:port, link, path or segment of it'
      : `write '${nearest}'`;
  return new RunFault(exitStatuses.usage, [
    clean(`no node, port, link, path or segment '${shown}' in the intent; ${remedy}`),
  ]);
}
