import type { FitPlan } from '../probe/fit-types.ts';
import { fitLimits, runFit } from '../probe/run-fit.ts';
import type { FitWay } from '../probe/settle-fits.ts';
import type { OneWay } from './fit-ends.ts';
import type { Io } from './io.ts';

/** Tries one direction, or says why it cannot be tried. */
export async function fitWay(
  way: OneWay,
  plan: FitPlan,
  { now, signal }: Pick<Io, 'now' | 'signal'>,
): Promise<FitWay> {
  const { from, to, run, toAddress } = way;
  const at = now().toISOString();
  if (run === undefined || toAddress === undefined) {
    const seen =
      run === undefined ? `nothing can be run on ${from}` : `no address of ${to} is known`;
    const remedy =
      run === undefined ? 'give it an SSH access, or try from its side' : 'name it in the intent';
    const outcome = { ok: false, trouble: { kind: 'fault', seen, remedy } } as const;
    return { from, to, at, ...(toAddress === undefined ? {} : { toAddress }), outcome };
  }
  const outcome = await runFit(run, { toAddress, plan }, fitLimits, signal);
  return { from, to, at, toAddress, outcome };
}
