import { type LacpState, lacpStatesOf } from '../../ethernet/lacp-state.ts';

/**
 * The bits that are set in the octet of an LACPDU, as hosts print it; undefined for a number that
 * is none of one octet.
 */
export function lacpStateOf(state: number | undefined): readonly LacpState[] | undefined {
  if (state === undefined || !Number.isInteger(state) || state < 0 || state > 255) return undefined;
  return lacpStatesOf(state, 'lacpdu');
}
