import type { Survey } from '../facts/survey.ts';
import type { Intent } from '../intent/types.ts';
import type { SiteIndex } from '../site/site-index.ts';
import type { Site } from '../site/types.ts';
import { orderModel } from './order-model.ts';
import { orderSteps } from './order-steps.ts';
import { type PlannedChange, planChange } from './plan-change.ts';
import { runningState } from './running-state.ts';
import { weighCosts } from './state-cost.ts';
import type { StateCost, StepOrder } from './types.ts';
import type { Way } from './ways-types.ts';

/** Steps up to which those of a way beside the change are put into an order. */
const orderedStepsMax = 200;

/** A change beside which the ways of its segments are worked out. */
export interface WaysStage {
  /** Joined from what is declared before the change. */
  readonly site: Site;
  /** Of what is declared after the change. */
  readonly index: SiteIndex;
  readonly survey: Survey;
  readonly planned: PlannedChange;
  /** Of the change itself. */
  readonly ordered: Ordered;
}

/** The state before some steps, and their order; absent: none was sought, or none is possible. */
interface Ordered {
  readonly start: StateCost;
  readonly order?: StepOrder;
}

/** A segment and the size that all of it is to have. */
export interface AskedWay {
  readonly segment: string;
  /** IP packet in bytes. */
  readonly bytes: number;
  /** It is the size that the change asks for. */
  readonly isAsked: boolean;
}

/** A way with the names of what cannot follow in it. */
export interface WorkedOut {
  readonly way: Way;
  /** `node:port`, or the node. */
  readonly refused: ReadonlySet<string>;
}

/** What it takes to bring all of a segment to one size; the change itself is not worked out again. */
export function workOutWay(stage: WaysStage, asked: AskedWay): WorkedOut {
  const { site, survey, planned, ordered } = stage;
  if (asked.isAsked && planned.oneSegment)
    return told(planned, { ...asked, isChange: true }, ordered);
  const alone = planAlone(site.intent, survey, asked, planned);
  return told(alone, { ...asked, isChange: false }, orderOf(alone, survey));
}

function planAlone(
  intent: Intent,
  survey: Survey,
  { segment, bytes }: AskedWay,
  { mtuChange, steps }: PlannedChange,
): PlannedChange {
  const segments = intent.segments.flatMap(({ name, place }) =>
    name === segment ? [{ name, mtuBytes: bytes, place }] : [],
  );
  // A device that the change puts in is there either way.
  const settings = steps.filter(({ arrives }) => arrives !== undefined);
  const asked = { settings, segments, mtuChange, speeds: new Map(), duplexes: new Map() };
  const made = planChange(intent, survey, asked);
  if (!made.ok) throw new Error(`a segment alone has faults: ${JSON.stringify(made.faults)}`);
  return made.value;
}

function orderOf(planned: PlannedChange, survey: Survey): Ordered | undefined {
  const { steps } = planned;
  if (steps.length === 0 || steps.length > orderedStepsMax) return undefined;
  const model = orderModel(planned.intent, survey, planned);
  const order = orderSteps(model);
  return { start: runningState(model, []).cost(), ...(order === undefined ? {} : { order }) };
}

function told(
  { steps: all, impossible }: PlannedChange,
  { bytes, isChange }: Pick<Way, 'bytes' | 'isChange'>,
  ordered: Ordered | undefined,
): WorkedOut {
  const [first] = impossible;
  const steps = all.filter(({ setting }) => setting === 'mtu');
  const refused = new Set(impossible.map(({ on }) => on));
  const restarting = steps.filter(({ disturbs }) => disturbs === 'node-reload');
  const way = {
    bytes,
    isChange,
    steps: steps.length,
    impossible: refused.size,
    ...(first === undefined ? {} : { firstImpossible: { on: first.on, what: first.what } }),
    ...(steps.length === 0 ? {} : costsOf(ordered)),
    bounces: steps.filter(({ disturbs }) => disturbs === 'link-bounce').length,
    restarts: new Set(restarting.map(({ node }) => node)).size,
  };
  return { way, refused };
}

function costsOf({ start, order }: Partial<Ordered> = {}): Pick<Way, 'start' | 'worst'> {
  if (start === undefined || order === undefined) return {};
  return { start, worst: weighCosts(order.costs).worst };
}
