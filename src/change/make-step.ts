import type { FactValue } from '../facts/entry.ts';
import type { PortReadFacts } from '../facts/port-facts.ts';
import { portRef, type SiteIndex } from '../site/site-index.ts';
import type { Asked, AskedSetting } from './asked.ts';
import { disturbanceOf } from './disturbance.ts';
import { stepFact } from './step-facts.ts';
import type { ChangeStep } from './types.ts';

/** The step that an asked setting is; without what it waits for. */
export function makeStep(
  index: SiteIndex,
  asked: AskedSetting,
  mtuChange: Asked['mtuChange'],
): ChangeStep {
  const { node, port, setting, to, place } = asked;
  const view = index.nodes.get(node);
  const ref = view && port !== undefined ? portRef(index.ports, view, port) : undefined;
  const facts = ref?.survey?.facts;
  const from = port === undefined ? view?.declared.frameBytes : readAs(setting, facts);
  return {
    id: `${setting} ${ref?.id ?? node}`,
    node,
    ...(ref === undefined ? {} : { port: ref.id }),
    ...(ref?.survey === undefined ? {} : { portName: ref.survey.name }),
    setting,
    ...(from === undefined ? {} : { from }),
    to,
    disturbs: disturbanceOf(asked, facts, mtuChange),
    place,
    after: [],
  };
}

function readAs(
  setting: AskedSetting['setting'],
  facts: PortReadFacts | undefined,
): FactValue | undefined {
  const fact = stepFact(setting);
  return fact === undefined ? undefined : facts?.[fact];
}
