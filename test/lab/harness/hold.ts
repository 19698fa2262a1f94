import { planFor } from './plan.ts';
import { buildTopology } from './topology.ts';

// Builds a small topology, prints the numbers of its processes and waits to be ended: the test of
// what a run leaves behind when nobody takes it down.
const topology = await buildTopology(planFor());
process.stdout.write(`${[...topology.machines.values()].map(({ pid }) => pid).join(' ')}\n`);
setInterval(() => undefined, 1000);
