import { firstGroup } from './text.ts';

/** What `ethtool --show-eee PORT` says of energy saving. */
export type EthtoolEee =
  | { readonly enabled: boolean; readonly active: boolean }
  /** In the system's own words where neither is told. Untrusted. */
  | { readonly said: string };

/** Reads the text of `ethtool --show-eee PORT`; undefined where it has no status. */
export function parseEthtoolEee(output: string): EthtoolEee | undefined {
  const status = firstGroup(output, /^[ \t]*EEE status: ([^\n]{1,80})$/m)?.trim();
  if (status === undefined) return undefined;
  if (status === 'disabled') return { enabled: false, active: false };
  if (status === 'enabled - active') return { enabled: true, active: true };
  if (status === 'enabled - inactive') return { enabled: true, active: false };
  return { said: status };
}
