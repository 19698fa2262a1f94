import { createInterface } from 'node:readline';
import { startAgent } from '../../mocks/snmp-agent/start-agent.ts';
import { plainSwitch } from '../collect/snmp/quay-switch.ts';

// Simulated switches in a process of their own, so that their work is not the reader's. Arguments:
// how many, ports of each, delay of each answer in milliseconds. Prints their ports, then the sum of
// requests for each line on stdin, and ends with it.

const [count = 0, ports = 0, delayMs = 0] = process.argv.slice(2).map(Number);
const described = plainSwitch(ports);
const agents = await Promise.all(
  Array.from({ length: count }, () => startAgent({ switch: described, delayMs })),
);
console.log(JSON.stringify(agents.map(({ port }) => port)));
for await (const _ of createInterface({ input: process.stdin }))
  console.log(agents.reduce((sum, agent) => sum + agent.requests(), 0));
await Promise.all(agents.map((agent) => agent.stop()));
