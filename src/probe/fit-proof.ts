import type { FitProof } from '../facts/proof.ts';
import type { FitVerdict } from './fit-types.ts';
import type { FitDirection } from './settle-fits.ts';

/** What is kept of a direction; undefined where nothing was sent and nothing is known. */
export function fitProof(direction: FitDirection): FitProof | undefined {
  const { from, to, toAddress, at, provenBytes, loss } = direction;
  if (toAddress === undefined || !direction.outcome.ok) return undefined;
  const words = wordsOf(direction);
  return {
    ...{ from, to, toAddress, at },
    ...(provenBytes === undefined ? {} : { provenMtuBytes: provenBytes }),
    ...(loss === undefined ? {} : { lostBytes: loss.bytes }),
    ...(words === undefined ? {} : { words }),
  };
}

/** What the numbers alone do not say. */
function wordsOf({ provenBytes, loss, outcome }: FitDirection): string | undefined {
  if (loss?.eitherWay === true) return 'lost there or on the way back: a ping does not tell which';
  if (provenBytes !== undefined || !outcome.ok) return undefined;
  return outcome.fit.sizes.map(({ verdict }) => said(verdict)).find((words) => words !== undefined);
}

function said(verdict: FitVerdict): string | undefined {
  return 'words' in verdict ? verdict.words : undefined;
}
