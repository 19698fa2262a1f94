import type { PortReadFacts } from '../../src/facts/port-facts.ts';
import type { Survey } from '../../src/facts/survey.ts';
import { buildSite } from '../../src/site/build-site.ts';
import type { Site } from '../../src/site/types.ts';
import {
  type IntentSketch,
  type LinkSketch,
  makeIntent,
  makeSurvey,
  type NodeReadingSketch,
  type NodeSketch,
} from './builders.ts';

export interface PlottingSketch {
  /** Facts of the four ports of the way; absent: as healthy at 9000 and 9216. */
  readonly desk?: PortReadFacts;
  readonly xg2?: PortReadFacts;
  readonly xg3?: PortReadFacts;
  readonly eth4?: PortReadFacts;
  readonly link?: LinkSketch;
  readonly nodes?: Readonly<Record<string, NodeSketch>>;
  readonly readings?: Readonly<Record<string, NodeReadingSketch>>;
  readonly intent?: Partial<IntentSketch>;
  readonly mtuBytes?: number;
  readonly strict?: boolean;
  /** What active tests have shown, in the survey. */
  readonly proofs?: Pick<Survey, 'fits' | 'transfers'>;
}

/** plot-1 - quay-sw - vault, all at 9000, with whatever a test wants otherwise. */
export function plottingSite(sketch: PlottingSketch = {}): Site {
  const link = sketch.link ?? { untagged: 'storage', speedMbps: 10_000 };
  const intent = makeIntent({
    segments: { storage: { vlan: 20, mtuBytes: sketch.mtuBytes ?? 9000 } },
    links: { 'plot-1:desk - quay-sw:xg2': link, 'quay-sw:xg3 - vault:eth4': link },
    paths: { plotting: { from: ['plot-1'], to: ['vault'], over: ['storage'] } },
    ...sketch.intent,
    nodes: { 'plot-1': {}, 'quay-sw': {}, vault: {}, ...sketch.nodes },
  });
  const survey = makeSurvey({
    'plot-1': {
      ports: { desk: { mtuBytes: 9000, addresses: ['198.18.20.1/24'], ...sketch.desk } },
      routes: { '198.18.20.2': 'desk' },
    },
    'quay-sw': {
      ports: { xg2: { mtuBytes: 9216, ...sketch.xg2 }, xg3: { mtuBytes: 9216, ...sketch.xg3 } },
    },
    vault: {
      ports: { eth4: { mtuBytes: 9000, addresses: ['198.18.20.2/24'], ...sketch.eth4 } },
      routes: { '198.18.20.1': 'eth4' },
    },
    ...sketch.readings,
  });
  return buildSite(intent, { ...survey, ...sketch.proofs }, { strict: sketch.strict ?? false });
}
