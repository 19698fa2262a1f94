import type { CauseDraft } from './cause.ts';
import { memberDown, memberLeftOut, mixedMembers } from './causes/aggregate.ts';
import { bus } from './causes/bus.ts';
import { downshift, perhapsCable } from './causes/cable.ts';
import { capability } from './causes/capability.ts';
import type { LinkRule } from './causes/cause-rule.ts';
import { configuration } from './causes/configuration.ts';
import { bothForced, forcedAgainstAuto, halfDuplex } from './causes/duplex.ts';
import { errors } from './causes/errors.ts';
import { eee, flaps } from './causes/flaps.ts';
import { strangerHeard, unequalEnds } from './causes/hidden-device.ts';
import { memberOutOfStep, membersApart } from './causes/lacp.ts';
import { asleep, down, forcedApart, switchedOff, virtualPort } from './causes/link-state.ts';
import { moduleOfOtherRate, modulesDiffer, modulesRefused } from './causes/module.ts';
import { moved, vlanMissing } from './causes/neighbour.ts';
import { offer } from './causes/offer.ts';
import { receivedLight, sentLight } from './causes/optics.ts';
import { pauseApart, pauseStorm } from './causes/pause.ts';
import { unratedRun } from './causes/run.ts';
import { noCommonSubnet } from './causes/subnet.ts';
import type { LinkView } from './link-view.ts';

/** Every rule for the causes behind a link; which comes first is not decided here. */
export const linkRules: Readonly<Record<string, LinkRule>> = {
  virtualPort,
  asleep,
  switchedOff,
  forcedApart,
  down,
  noCommonSubnet,
  moved,
  vlanMissing,
  memberDown,
  memberLeftOut,
  memberOutOfStep,
  membersApart,
  mixedMembers,
  modulesRefused,
  modulesDiffer,
  moduleOfOtherRate,
  forcedAgainstAuto,
  halfDuplex,
  bothForced,
  unequalEnds,
  strangerHeard,
  configuration,
  capability,
  offer,
  downshift,
  perhapsCable,
  receivedLight,
  sentLight,
  bus,
  errors,
  pauseApart,
  pauseStorm,
  eee,
  flaps,
  unratedRun,
};

/** What all rules find. */
export function draftsFor(view: LinkView): readonly CauseDraft[] {
  return Object.values(linkRules).flatMap((rule) => rule(view));
}
