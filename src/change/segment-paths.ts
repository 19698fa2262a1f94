import { byName } from '../facts/order.ts';
import type { DeclaredPath, Intent } from '../intent/types.ts';

/**
 * An intent with a path from every machine in `segments` that no declared path there begins or
 * ends at, to the next machine of its segment. So what a change does to a machine is reckoned
 * although no path of it is declared, and a thousand machines have a thousand pairs at most.
 */
export function withSegmentPaths(intent: Intent, segments: readonly string[]): Intent {
  const paths = intent.segments
    .filter(({ name }) => segments.includes(name))
    .flatMap(({ name, place }) => {
      const machines = machinesIn(intent, name);
      const told = intent.paths.filter(({ over }) => over.includes(name));
      const covered = new Set(told.flatMap(({ from, to }) => [...from, ...to]));
      return machines.flatMap((from, at): DeclaredPath[] => {
        const to = machines[(at + 1) % machines.length];
        if (covered.has(from) || to === undefined || to === from) return [];
        return [
          {
            name: `${from} to ${to} in segment ${name}`,
            place,
            from: [from],
            to: [to],
            over: [name],
          },
        ];
      });
    });
  return paths.length === 0 ? intent : { ...intent, paths: [...intent.paths, ...paths] };
}

function machinesIn(intent: Intent, segment: string): string[] {
  const linked = intent.links.filter(
    ({ untagged, tagged }) => untagged === segment || tagged.includes(segment),
  );
  const names = new Set(linked.flatMap(({ ends }) => ends.map(({ node }) => node)));
  return intent.nodes
    .filter(({ name, role, unread }) => names.has(name) && role === 'host' && unread === undefined)
    .map(({ name }) => name)
    .sort(byName);
}
