import { defineConfig } from 'vitest/config';

/** What only computes: it leaves nothing behind, so that its files can share a process. */
const pure = [
  ...['change', 'diagnose', 'draft', 'drift', 'ethernet', 'facts', 'intent', 'judge'],
  ...['report', 'schedule', 'site', 'standards'],
].map((folder) => `test/${folder}/**`);

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          // One for each core: by default one is left idle, which on two cores is half of the time.
          maxWorkers: 2,
          include: ['test/**/*.test.ts'],
          exclude: [...pure, 'test/lab/**', 'test/browser/**', 'test/pack/**', 'node_modules/**'],
          setupFiles: ['test/setup.ts'],
          testTimeout: 20_000,
        },
      },
      {
        test: {
          name: 'unit-pure',
          maxWorkers: 2,
          isolate: false,
          include: pure.map((folder) => `${folder}/*.test.ts`),
          setupFiles: ['test/setup.ts'],
          testTimeout: 20_000,
        },
      },
      {
        test: {
          name: 'pack',
          include: ['test/pack/**/*.test.ts'],
          fileParallelism: false,
          testTimeout: 60_000,
          hookTimeout: 300_000,
        },
      },
      {
        test: {
          name: 'browser',
          include: ['test/browser/**/*.test.ts'],
          setupFiles: ['test/setup.ts'],
          fileParallelism: false,
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: {
          name: 'lab',
          include: ['test/lab/*.test.ts'],
          // Each file makes hosts of its own and mostly waits for them: four share two cores well.
          maxWorkers: 4,
          testTimeout: 120_000,
          hookTimeout: 180_000,
        },
      },
      {
        test: {
          // Measures what other work would spoil.
          name: 'lab-alone',
          include: ['test/lab/alone/*.test.ts'],
          fileParallelism: false,
          testTimeout: 120_000,
          hookTimeout: 180_000,
        },
      },
    ],
  },
});
