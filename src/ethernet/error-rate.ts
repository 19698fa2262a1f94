import { frameLossRatioMax, type PhyErrorLimit } from './phy-error-limit.ts';
import { poissonInterval } from './poisson-interval.ts';
import type { Traffic } from './traffic-between.ts';

/** What the errors of a link say of it, against the limit of its PHY. */
export interface ErrorRate {
  /**
   * - `worse-than-limit` enough errors, and even the least ratio they allow is over the limit
   * - `within`           even the largest ratio that they allow is below the limit
   * - `cannot-tell-yet`  the traffic is too little for either
   */
  readonly verdict: 'worse-than-limit' | 'within' | 'cannot-tell-yet';
  /** Errors per bit; or, where the PHY corrects and errors come in bursts, lost frames per frame. */
  readonly judgedBy: 'bit-error-ratio' | 'frame-loss-ratio';
  readonly limit: number;
  readonly erroredFrames: number;
  /** The estimate and its bounds; absent: nothing was carried. */
  readonly ratio?: number;
  readonly atLeast?: number;
  readonly atMost?: number;
  /**
   * Further octets after which the verdict falls, if errors keep coming as they do. Absent: it
   * has fallen, or the ratio is so near the limit that no reasonable traffic would tell.
   */
  readonly moreOctets?: number;
}

/** How sure a verdict on errors has to be. */
export interface ErrorRateRules {
  /** Confidence of the two-sided interval, between 0 and 1. */
  readonly confidence: number;
  /** Errors fewer than this never accuse: one can be a cord that was plugged. */
  readonly erroredFramesMin: number;
}

/** 95 % confidence, and at least three errors: one or two happen to anybody. */
export const usualErrorRules: ErrorRateRules = { confidence: 0.95, erroredFramesMin: 3 };

/** Octets of a frame that `moreOctets` reckons with where no frame was seen. */
const frameBitsAssumed = 1518 * 8;
/** The verdict is looked for in up to so many times the traffic seen. */
const growthMax = 2 ** 20;
const bisections = 40;

/** Events and what they are counted over. */
interface Sample {
  readonly events: number;
  /** Bits, or frames. */
  readonly over: number;
}

interface Scale {
  readonly limit: number;
  /** Frames that one failure of correction takes at most. */
  readonly framesPerEvent: number;
}

/**
 * Judges the errors of a link by the traffic that it carried: three in a few gigabytes matter,
 * thirty in many terabytes may not. Each errored frame counts as one bit error, the least it can
 * be; `traffic` holds counts of at least 0.
 */
export function errorRate(
  traffic: Traffic,
  limit: PhyErrorLimit,
  rules: ErrorRateRules = usualErrorRules,
): ErrorRate {
  const bursts = limit.burstBits !== undefined;
  const frames = traffic.frames + traffic.erroredFrames;
  const bits = traffic.octets * 8;
  const frameBits = frames > 0 && bits > 0 ? bits / frames : frameBitsAssumed;
  const scale: Scale = {
    limit: bursts ? frameLossRatioMax(limit, frameBits) : limit.bitErrorRatioMax,
    framesPerEvent: 1 + (limit.burstBits ?? 0) / frameBits,
  };
  const sample: Sample = { events: traffic.erroredFrames, over: bursts ? frames : bits };
  const verdict = judged(sample, scale, rules);
  const more = verdict === 'cannot-tell-yet' ? moreOver(sample, scale, rules) : undefined;
  const moreBits = more === undefined || !bursts ? more : more * frameBits;
  return {
    verdict,
    judgedBy: bursts ? 'frame-loss-ratio' : 'bit-error-ratio',
    limit: scale.limit,
    erroredFrames: traffic.erroredFrames,
    ...(sample.over > 0 ? boundsOf(sample, scale, rules) : {}),
    ...(moreBits === undefined ? {} : { moreOctets: Math.ceil(moreBits / 8) }),
  };
}

// One failure of correction can take several short frames: they are one event, not several.
function boundsOf({ events, over }: Sample, { framesPerEvent }: Scale, rules: ErrorRateRules) {
  const bound = (count: number) => poissonInterval(count, rules.confidence);
  const { least } = bound(Math.floor(events / framesPerEvent));
  const { most } = bound(Math.ceil(events / framesPerEvent));
  return {
    ratio: events / over,
    atLeast: (least * framesPerEvent) / over,
    atMost: (most * framesPerEvent) / over,
  };
}

function judged(sample: Sample, scale: Scale, rules: ErrorRateRules): ErrorRate['verdict'] {
  if (!(sample.over > 0)) return 'cannot-tell-yet';
  const { atLeast, atMost } = boundsOf(sample, scale, rules);
  if (atLeast > scale.limit && sample.events >= rules.erroredFramesMin) return 'worse-than-limit';
  return atMost < scale.limit ? 'within' : 'cannot-tell-yet';
}

/** How much more must be carried, if errors keep coming at the same rate. */
function moreOver(sample: Sample, scale: Scale, rules: ErrorRateRules): number | undefined {
  if (sample.events === 0) {
    const { most } = poissonInterval(0, rules.confidence);
    return (most * scale.framesPerEvent) / scale.limit - sample.over;
  }
  if (!(sample.over > 0)) return undefined;
  const worse = sample.events / sample.over > scale.limit;
  const tells = (growth: number): boolean => {
    const events = sample.events * growth;
    const grown = {
      events: worse ? Math.floor(events) : Math.ceil(events),
      over: sample.over * growth,
    };
    return judged(grown, scale, rules) !== 'cannot-tell-yet';
  };
  let high = 2;
  while (high < growthMax && !tells(high)) high *= 2;
  if (!tells(high)) return undefined;
  let low = high / 2;
  for (let i = 0; i < bisections; i += 1) {
    const middle = (low + high) / 2;
    if (tells(middle)) high = middle;
    else low = middle;
  }
  return sample.over * (high - 1);
}
