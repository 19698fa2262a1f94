import { describe, expect, it } from 'vitest';
import type { FitProof, TransferProof } from '../../src/facts/proof.ts';
import type { Database } from '../../src/history/database.ts';
import { pruneStore } from '../../src/history/keep-store.ts';
import { proofEvents, readProofs } from '../../src/history/kept-proofs.ts';
import { addProofs, writeNight } from '../../src/history/write-night.ts';
import { nightOf } from './store.ts';

const site = 'Saltmarsh survey office';
const there = { from: 'plot-1', to: 'vault', toAddress: '198.18.20.2' };
const back = { from: 'vault', to: 'plot-1', toAddress: '198.18.20.1' };
const on = (day: number) => `2026-11-0${day}T02:00:00.000Z`;
const fitOn = (day: number, provenMtuBytes: number, way = there): FitProof => ({
  ...way,
  at: on(day),
  provenMtuBytes,
});
const transfer: TransferProof = {
  ...there,
  at: on(3),
  ...{ tookSeconds: 10, bytes: 11_750_000_000, streams: 1, goodputMbps: 9400 },
};

async function rows(store: Database): Promise<number> {
  return (await store.all('select proof_id from proof')).length;
}

/** What every engine of the store has to do with proofs; `newStore` opens an empty one for one test. */
export function proofsContract(newStore: () => Promise<Database>): void {
  describe('proofs that were kept', () => {
    it('are one row for nights that showed the same, and a new one for what is new', async () => {
      const store = await newStore();
      for (const [day, bytes] of [
        [1, 9000],
        [2, 9000],
        [3, 1500],
        [4, 9000],
        [5, 9000],
      ] as const) {
        await addProofs(store, site, { fits: [fitOn(day, bytes)], transfers: [] });
      }
      expect(await rows(store)).toBe(3);
      expect(await proofEvents(store, { site })).toEqual([
        { kind: 'proven', at: on(1), lastAt: on(2), fit: fitOn(2, 9000) },
        { kind: 'proven', at: on(3), lastAt: on(3), fit: fitOn(3, 1500) },
        { kind: 'proven', at: on(4), lastAt: on(5), fit: fitOn(5, 9000) },
      ]);
      expect(await readProofs(store, { site, since: '' })).toEqual({
        fits: [fitOn(5, 9000)],
        transfers: [],
      });
    });

    it('come with the night that brought them, and are not written again by the next', async () => {
      const store = await newStore();
      const proofs = { fits: [fitOn(2, 9000)], transfers: [transfer] };
      await writeNight(store, nightOf(3, { proofs }));
      await writeNight(store, nightOf(4, { proofs }));
      expect(await rows(store)).toBe(2);
      expect(await readProofs(store, { site, since: '' })).toEqual(proofs);
    });

    it('give the ways that are asked for, and nothing older', async () => {
      const store = await newStore();
      const fits = [fitOn(2, 9000), fitOn(4, 8996, back)];
      await addProofs(store, site, { fits, transfers: [transfer] });
      const events = await proofEvents(store, { site, ways: [{ from: 'vault', to: 'plot-1' }] });
      expect(events.map(({ at }) => at)).toEqual([on(4)]);
      expect(await proofEvents(store, { site, ways: [] })).toEqual([]);
      expect(await readProofs(store, { site, since: on(3) })).toEqual({
        fits: [fitOn(4, 8996, back)],
        transfers: [transfer],
      });
      await pruneStore(store, on(4));
      expect(await rows(store)).toBe(1);
    });

    it('are not believed where somebody else wrote them', async () => {
      const store = await newStore();
      await addProofs(store, site, { fits: [fitOn(2, 9000)], transfers: [] });
      await store.all("update proof set body = '{}'");
      await expect(readProofs(store, { site, since: '' })).rejects.toThrow(/damaged \(a proof\)/);
    });
  });
}
