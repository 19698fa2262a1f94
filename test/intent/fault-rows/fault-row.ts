/** A faulty file: `«` stands before each place at fault, in order; then the faults told. */
export type FaultRow = readonly [name: string, text: string, ...told: string[]];

/** Two nodes, two lines. */
export const nodes = 'intent: 1\nnodes: { a: { at: 198.18.0.1 }, b: { at: 198.18.0.2 } }\n';

/** Two nodes and two segments, three lines. */
export const network = `${nodes}segments: { s: { mtu: 1500 }, t: {} }\n`;
