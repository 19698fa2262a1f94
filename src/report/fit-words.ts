import type { FitVerdict } from '../probe/fit-types.ts';
import type { FitDirection } from '../probe/settle-fits.ts';

/** What a fit has shown of a direction, in one clause. */
export function fitDirectionWords(direction: FitDirection): string {
  const { provenBytes, provenByReply, loss, outcome } = direction;
  const by = provenByReply ? ', as replies to the other end show' : '';
  const passes = provenBytes === undefined ? '' : `${provenBytes} bytes pass${by}`;
  if (direction.stands === 'met') return passes;
  if (loss !== undefined) {
    const lost = loss.eitherWay
      ? `${loss.bytes} are lost, on this way or on the way back`
      : `${loss.bytes} do not`;
    return passes === '' ? `${loss.bytes} bytes do not pass` : `${passes}, ${lost}`;
  }
  if (!outcome.ok) {
    return passes === '' ? `not tried: ${outcome.trouble.seen}` : `${passes}; more was not tried`;
  }
  return passes === '' ? 'cannot be told' : `${passes}; of more it cannot be told`;
}

/** What became of a size, in words. */
export function fitVerdictWords(verdict: FitVerdict): string {
  switch (verdict.kind) {
    case 'passes':
      return 'passes and comes back';
    case 'own-interface-small': {
      const at = verdict.device === undefined ? '' : ` ${verdict.device}`;
      return `does not leave: the sender's own interface${at} is smaller${bracketed(verdict.mtuBytes)}`;
    }
    case 'route-small':
      return `does not leave: a route of the sender is smaller${bracketed(verdict.mtuBytes)}`;
    case 'router-said': {
      const size = verdict.mtuBytes === undefined ? '' : `, which passes ${verdict.mtuBytes} bytes`;
      return verdict.address === undefined
        ? `does not leave: a router told the sender earlier that it is too big${size}`
        : `too big on the way, says ${verdict.address}${size}`;
    }
    case 'silent':
      return 'vanishes: no answer and no error';
    case 'cannot-tell':
      return `cannot be told: ${verdict.words}`;
  }
}

function bracketed(mtuBytes: number | undefined): string {
  return mtuBytes === undefined ? '' : ` (${mtuBytes} bytes)`;
}

/** What would let it be told; undefined where it is told. */
export function fitRemedy({ stands, outcome, provenBytes, to }: FitDirection): string | undefined {
  if (stands !== 'undetermined') return undefined;
  if (!outcome.ok) return outcome.trouble.remedy;
  if (provenBytes === undefined && outcome.fit.sizes.some(({ tries }) => tries > 0)) {
    return `let echo requests through at ${to} and on the way while the fit runs (ICMP type 8, ICMPv6 type 128), or run it between two other hosts`;
  }
  return 'run it from an end that can: Linux with the usual ping, FreeBSD or Windows';
}
