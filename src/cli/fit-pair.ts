import { localRunner } from '../collect/local/local-runner.ts';
import type { SshDeps } from '../collect/ssh/ssh-deps.ts';
import { sshRunner } from '../collect/ssh/ssh-runner.ts';
import { defaultReadLimits, type RunScript } from '../collect/types.ts';
import { standardPacketBytes } from '../ethernet/frame-size.ts';
import type { FitProof } from '../facts/proof.ts';
import type { DeclaredNode } from '../intent/types.ts';
import type { Fit, FitVerdict } from '../probe/fit-types.ts';
import { runFit } from '../probe/run-fit.ts';
import type { FitPair, Io } from './io.ts';
import { sshTargetOf } from './node-reader.ts';

/** Tries a pair over the network, one sender after the other. */
export function fitPairBy(ssh: SshDeps, io: Io): FitPair {
  return async ({ directions, declaredBytes }, signal) => {
    const sizesBytes = [...new Set([standardPacketBytes, declaredBytes ?? standardPacketBytes])];
    const proofs: FitProof[] = [];
    for (const way of directions) {
      const run = runnerOf(way.from, ssh);
      if (run === undefined || signal.aborted) continue;
      const { toAddress } = way;
      const outcome = await runFit(run, { toAddress, sizesBytes }, defaultReadLimits, signal);
      if (outcome.ok) {
        const names = { from: way.from.name, to: way.to.name };
        proofs.push(fitProofOf(names, outcome.fit, io.now()));
      }
    }
    return proofs;
  };
}

function runnerOf(node: DeclaredNode, ssh: SshDeps): RunScript | undefined {
  for (const access of node.access) {
    if (access.via === 'local') return localRunner();
    if (access.via === 'ssh')
      return sshRunner(sshTargetOf(node, access, node.identity.hostKey), ssh);
  }
  return undefined;
}

/** What is kept of a fit between two ends. */
export function fitProofOf(
  ends: { readonly from: string; readonly to: string },
  { toAddress, sizes, provenBytes }: Fit,
  now: Date,
): FitProof {
  const lost = sizes.find(({ verdict }) => isLost(verdict));
  const unclear = sizes.flatMap(({ verdict }) => ('words' in verdict ? [verdict.words] : []));
  return {
    ...{ from: ends.from, to: ends.to, toAddress, at: now.toISOString() },
    ...(provenBytes === undefined ? {} : { provenMtuBytes: provenBytes }),
    ...(lost === undefined ? {} : { lostBytes: lost.sizeBytes }),
    ...(provenBytes === undefined && unclear[0] !== undefined ? { words: unclear[0] } : {}),
  };
}

function isLost({ kind }: FitVerdict): boolean {
  return kind !== 'passes' && kind !== 'cannot-tell';
}
