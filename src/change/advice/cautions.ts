import type { ChangeStep, Disturbance } from '../types.ts';
import { hostKinds } from './step-words.ts';
import type { AdviceContext } from './types.ts';

/** What a step disturbs, in words (common practice). */
const disturbanceWords: Readonly<Record<Disturbance, readonly string[]>> = {
  nothing: [],
  'link-bounce': [
    'the link goes down for a moment: storage sessions over it drop, an aggregate loses a member; end or pause what must not break',
  ],
  'node-reload': [
    'the value counts only after a restart of the node, and all its links are down until it is back: plan a window, save its settings first, also those kept outside the saved configuration',
  ],
  'node-out': [
    'all its links are down until the new device is in place and set: plan a window, keep the old one with its settings until the check has held, and look at speed, VLANs, aggregates and spanning tree of every port after',
  ],
  'link-moved': [
    'the link is down while the cord is moved, and may come up slower: look at speed and errors at both ends after',
  ],
};

/** RFC 8200, section 5. */
const ipv6MtuBytesMin = 1280;

const lightCaution =
  'never look into a port or the end of a fibre: the light is invisible; cap what stays open, and look at and clean each end before it goes in';

/** What to know before the step, apart from what is a system's own. */
export function stepCautions(step: ChangeStep, context: AdviceContext): string[] {
  return [
    ...disturbanceWords[step.disturbs],
    ...wayIn(step, context),
    ...settingCautions(step, context),
    ...(step.setting === 'link' || step.setting === 'node' ? [lightCaution] : []),
  ];
}

function wayIn(step: ChangeStep, context: AdviceContext): string[] {
  if (context.carriesWayIn === false) return [];
  const way =
    context.carriesWayIn === true
      ? `${step.setting === 'node' ? 'the node' : 'this port'} carries the address by which the node is reached: work from its console, or by another port; never cut the only way in`
      : 'whether this is the way to the node is not known: have its console at hand';
  return hostKinds.has(context.systemKind ?? '') && step.setting !== 'link'
    ? [`${way}; start the job that goes back by itself first, where one is given`]
    : [way];
}

function settingCautions(step: ChangeStep, { port, systemKind }: AdviceContext): string[] {
  const { setting, line } = step;
  if (setting === 'mtu') return mtuCautions(step, port?.mtuMaxBytes, systemKind);
  if (line?.negotiates === false) {
    return [
      'with negotiation off at one end only, the other falls to half duplex at 10 and 100 Mb/s; 1000BASE-T and faster copper need it on (IEEE 802.3, 28 and 40.5)',
    ];
  }
  if (line !== undefined && setting !== 'auto-negotiation') {
    return [
      'set both ends alike: one forced end against one that negotiates gives half duplex at 10 and 100 Mb/s, and may give no link above',
    ];
  }
  return [];
}

function mtuCautions(step: ChangeStep, maxBytes: number | undefined, systemKind?: string) {
  const beyond = typeof step.to === 'number' && maxBytes !== undefined && step.to > maxBytes;
  const host = hostKinds.has(systemKind ?? '');
  return [
    ...(beyond ? [`the driver takes at most ${maxBytes} bytes: this step will be refused`] : []),
    ...(!host && step.disturbs !== 'node-reload'
      ? [
          'some switches take a new largest frame only after a restart: look it up before the window',
        ]
      : []),
    ...(host && step.disturbs === 'nothing'
      ? ['many drivers take the link down for a moment when the MTU changes']
      : []),
    ...(host && typeof step.to === 'number' && step.to < ipv6MtuBytesMin
      ? [`below ${ipv6MtuBytesMin} bytes the port can no longer carry IPv6 (RFC 8200, 5)`]
      : []),
  ];
}
