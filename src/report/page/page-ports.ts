import { byName } from '../../facts/order.ts';
import type { Subject } from '../../facts/subject.ts';
import type { NodeSurvey, PortSurvey } from '../../facts/survey.ts';
import type { SiteNode, SitePort } from '../../site/types.ts';
import { portFragment } from './fragments.ts';
import type { PageView } from './page-view.ts';

/** A port as the page lists it: judged, or only read. */
export interface PagePort {
  readonly fragment: string;
  /** Its name on its node: that of the intent, else the node's own. */
  readonly name: string;
  /** No rule judged it: nothing declares it. */
  readonly undeclared: boolean;
  readonly subject: Subject;
}

/** The ports of every node: those that were judged, and those that were only read. */
export function pagePorts({ result, ports }: PageView): (node: SiteNode) => readonly PagePort[] {
  const judged = new Map<string, SitePort[]>(result.site.nodes.map((n) => [n.declared.name, []]));
  for (const port of ports.values()) judged.get(port.node)?.push(port);
  return ({ declared: { name }, survey }) => {
    const own = judged.get(name) ?? [];
    // An alias of the intent hides a port of the same name, here as everywhere else.
    const known = new Set(own.flatMap((port) => [nameOn(port), port.survey?.name]));
    const others = (survey?.ports ?? []).filter((port) => !known.has(port.name));
    return [
      ...own.map(judgedPort),
      ...others.flatMap((port) => (survey === undefined ? [] : readPort(survey, port))),
    ].sort((a, b) => byName(a.name, b.name));
  };
}

function judgedPort(port: SitePort): PagePort {
  const name = nameOn(port);
  const { node, subject } = port;
  return { fragment: portFragment(node, name), name, undeclared: false, subject };
}

function nameOn({ id, node }: SitePort): string {
  return id.slice(node.length + 1);
}

/** A port that nothing declares has no facts but those that were read. */
function readPort({ node, portSources, portGaps }: NodeSurvey, port: PortSurvey): PagePort {
  const { name, facts, sources = {}, gaps = {} } = port;
  return {
    fragment: portFragment(node, name),
    name,
    undeclared: true,
    subject: {
      kind: 'port',
      id: `${node}:${name}`,
      facts,
      own: { sources, gaps },
      shared: { sources: portSources, gaps: portGaps },
    },
  };
}
