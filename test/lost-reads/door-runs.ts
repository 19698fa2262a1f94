import { expect } from 'vitest';
import type { ReadOutcome } from '../../src/collect/types.ts';
import type { TroubleKind } from '../../src/facts/trouble.ts';
import { count, unfounded } from './claims.ts';
import { type FaultCount, noRuns } from './fault-kinds.ts';
import { soundOffice } from './office-nodes.ts';
import { auditOffice, officeIntent, officeTopics } from './office-run.ts';

/** What every reader of these tests is asked. */
export const request = { peers: [], topics: officeTopics };

const maySleep = new Set(officeIntent.nodes.filter(({ sleeps }) => sleeps).map(({ name }) => name));

/** What one failing node, or several, have to come to. */
export interface DoorRun {
  readonly outcomes: ReadonlyMap<string, ReadOutcome>;
  readonly trouble: TroubleKind;
  /** The rule that the failure breaks, rightly; absent: none. */
  readonly breaks?: string | undefined;
  /** For the messages of the test. */
  readonly what: string;
}

/** Holds audits in which nodes fail as a whole to the one with which nothing is wrong. */
export async function doorRuns() {
  const sound = await soundOffice();
  const whole = await auditOffice(sound);
  const counted = noRuns();
  return {
    counted: (): FaultCount => counted,
    hold: async ({ outcomes, trouble, breaks, what }: DoorRun): Promise<void> => {
      const failing = [...outcomes].map(([node, outcome]) => [node, async () => outcome] as const);
      const disturbed = await auditOffice(new Map([...sound, ...failing]));
      const broken = [...outcomes.keys()].flatMap((node) =>
        breaks === undefined ? [] : [`${breaks} node ${node}: broken, and was met`],
      );
      expect(unfounded(whole, disturbed, 'at the door'), what).toEqual(broken);
      const others = ({ survey }: typeof whole) =>
        survey.nodes.filter(({ node }) => !outcomes.has(node));
      expect(others(disturbed), what).toEqual(others(whole));
      expect(disturbed.exitStatus, what).not.toBe(0);
      for (const node of outcomes.keys()) {
        const read = disturbed.survey.nodes.find((one) => one.node === node);
        expect(
          read?.readings.map((one) => one.trouble?.kind),
          what,
        ).toEqual([trouble]);
        const before = counted.undetermined;
        count(counted, { whole, disturbed, node });
        // Who may sleep and says nothing is excused, and nobody else.
        const isExcused = maySleep.has(node) && trouble === 'no-answer';
        expect(counted.undetermined > before, what).toBe(!isExcused);
      }
    },
  };
}
