import type { ChangeRemark, ChangeStep } from './types.ts';

/** What to mind of devices that are replaced, and what is not known of them. */
export function deviceRemarks(steps: readonly ChangeStep[]): ChangeRemark[] {
  return steps.flatMap((step): ChangeRemark[] => {
    const { node: on, to, arrives } = step;
    if (arrives === undefined) return [];
    const caution: ChangeRemark = {
      kind: 'caution',
      on,
      what: `is replaced: everything that runs through it stops until ${String(to)} is in its place; its ports are taken to have the names and the VLANs that they have now`,
      remedy: 'set the new device up beside the old one first, and keep the old one at hand',
    };
    const isSet = steps.some((each) => each.node === on && each.setting === 'mtu');
    if (arrives.mtuBytes !== undefined || isSet) return [caution];
    return [
      caution,
      {
        kind: 'unknown',
        on,
        what: `is replaced by ${String(to)}, and what its ports pass as it comes is not said`,
        remedy: `write mtu: under replace: of ${on}, or set its ports in this change`,
      },
    ];
  });
}
