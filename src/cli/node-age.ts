/** The oldest Node that hopgauge runs on, as `engines` of its package says. */
export const nodeAtLeast = '20.19';

/** What to tell where the running Node, `20.1.0`, is too old to load hopgauge; undefined: it is not. */
export function tooOldNode(running: string, program: string): string | undefined {
  const [major = 0, minor = 0] = running.split('.').map(Number);
  const [wantedMajor = 0, wantedMinor = 0] = nodeAtLeast.split('.').map(Number);
  if (major > wantedMajor || (major === wantedMajor && minor >= wantedMinor)) return undefined;
  return `hopgauge: needs Node.js ${nodeAtLeast} or newer, and ${program} is ${running}; install a newer one, or put its folder first in PATH`;
}
