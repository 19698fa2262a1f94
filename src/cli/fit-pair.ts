import type { SshDeps } from '../collect/ssh/ssh-deps.ts';
import { standardPacketBytes } from '../ethernet/frame-size.ts';
import { planFor, wantedBytes } from '../probe/fit-plan.ts';
import { fitProof } from '../probe/fit-proof.ts';
import { settleFits } from '../probe/settle-fits.ts';
import type { OneWay } from './fit-ends.ts';
import { fitWay } from './fit-way.ts';
import type { FitPair, FitWanted, Io } from './io.ts';
import { runnerOf } from './node-reader.ts';

/** Tries a pair over the network, one sender after the other. */
export function fitPairBy(ssh: SshDeps, io: Io): FitPair {
  return async (wanted, signal) => {
    const ways = bothOf(wanted, ssh);
    if (ways === undefined) return [];
    const plan = (way: OneWay) =>
      planFor(wanted.declaredBytes ?? standardPacketBytes, way.toAddress ?? '');
    const around = { now: io.now, signal };
    const there = await fitWay(ways[0], plan(ways[0]), around);
    if (signal.aborted) return [];
    const back = await fitWay(ways[1], plan(ways[1]), around);
    const settled = settleFits([there, back], wantedBytes(plan(ways[0])));
    return settled.flatMap((direction) => fitProof(direction) ?? []);
  };
}

/** Both directions; one that is not wanted has nobody who could send. */
function bothOf({ directions }: FitWanted, ssh: SshDeps): readonly [OneWay, OneWay] | undefined {
  const [there, back] = directions.map(
    ({ from, to, toAddress }): OneWay => ({
      ...{ from: from.name, to: to.name, toAddress },
      run: runnerOf(from, ssh),
    }),
  );
  return there && [there, back ?? { from: there.to, to: there.from }];
}
