import type { AskedNode } from '../../src/share/asked-node.ts';

/** A host of the depot, as an audit asks collectors for it until two in the morning. */
export const askedVault: AskedNode = {
  version: 1,
  run: '5c6f3f4e-3f0e-4d6a-9a3e-0d1b2c3d4e5f',
  site: 'the depot',
  until: '2026-11-26T02:00:00.000Z',
  node: {
    name: 'vault',
    at: 'vault.office.example',
    access: [{ via: 'ssh', name: 'hosts', user: 'auditor' }],
    peerNames: [],
  },
  whereabouts: {},
  topics: [],
};
