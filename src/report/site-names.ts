import type { Change } from '../drift/known-node.ts';
import type { NodeSurvey, Survey } from '../facts/survey.ts';
import type { DeclaredNode, Intent } from '../intent/types.ts';
import type { HistoryView } from './history-text.ts';
import type { PagePast } from './page/past/page-past.ts';
import type { HiddenKind } from './pseudonym.ts';
import type { AuditResult, Moved } from './types.ts';

interface NamedThings extends Pick<AuditResult, 'site' | 'survey' | 'moved' | 'past'> {
  readonly judgement: Pick<AuditResult['judgement'], 'faults' | 'findings'>;
}

/** Everything in a result that names the site, its owner or its things, with what it is. */
export function siteNames({
  site,
  survey,
  judgement,
  moved,
  past,
}: NamedThings): Map<string, HiddenKind> {
  const { names, add } = collector();
  for (const node of site.intent.nodes) addNode(node, add);
  addIntent(site.intent, add);
  for (const node of survey?.nodes ?? []) addSurvey(node, add);
  if (survey !== undefined) addProofs(survey, add);
  for (const node of site.nodes) if (node.survey !== undefined) addSurvey(node.survey, add);
  add('file', ...judgement.faults.map(({ place }) => place.file));
  add('file', ...judgement.findings.map(({ declaredAt }) => declaredAt?.file));
  if (moved !== undefined) addMoved(moved, add);
  if (past !== undefined) addPast(past, add);
  return names;
}

/** Everything in a survey that names its site, its nodes or their things. */
export function surveyNames(survey: Survey): Map<string, HiddenKind> {
  const { names, add } = collector();
  add('site', survey.site);
  for (const node of survey.nodes) addSurvey(node, add);
  addProofs(survey, add);
  return names;
}

/** Proofs may be of nodes that nobody declares any more. */
function addProofs({ fits = [], transfers = [] }: Survey, add: Add): void {
  for (const { from, to } of [...fits, ...transfers]) add('node', from, to);
}

function collector(): { readonly names: Map<string, HiddenKind>; readonly add: Add } {
  const names = new Map<string, HiddenKind>();
  const add: Add = (kind, ...texts) => {
    for (const text of texts) {
      // A bare number is no name: hiding it would hide counts and sizes.
      if (text === undefined || /^[\d\s]*$/.test(text) || names.has(text)) continue;
      names.set(text, kind);
    }
  };
  return { names, add };
}

type Add = (kind: HiddenKind, ...texts: readonly (string | undefined)[]) => void;

function addNode(node: DeclaredNode, add: Add): void {
  add('node', node.name);
  add('host', node.at);
  add('system', node.identity.systemName);
  add('id', node.identity.engineId, node.identity.hostKey);
  for (const access of node.access) {
    if (access.via === 'ssh') {
      add('user', access.user);
      add('host', access.jump);
      add('file', access.key);
      add('secret', access.password, access.passphrase);
    }
    if (access.via === 'snmp') {
      add('user', access.user, access.context);
      add('secret', access.community, access.secret?.auth, access.secret?.privacy);
    }
  }
  // The node's own name of a port stays; a name that the owner made up does not.
  for (const port of node.ports) if (port.name !== port.alias) add('port', port.alias);
}

function addIntent(intent: Intent, add: Add): void {
  add('site', intent.site);
  add('file', ...intent.files, ...intent.policies.map(({ file }) => file));
  add('segment', ...intent.segments.map(({ name }) => name));
  add('path', ...intent.paths.map(({ name }) => name));
  add('because', ...intent.waivers.map(({ because }) => because));
  for (const link of intent.links) {
    add('aggregate', link.lag);
    add('label', ...link.run.map(({ label }) => label));
  }
}

function addSurvey(node: NodeSurvey, add: Add): void {
  add('node', node.node);
  add('system', node.facts.systemName, node.facts.systemName?.split('.')[0]);
  add('id', node.facts.engineId, node.facts.hostKey);
  for (const port of node.ports) add('text', port.facts.alias);
  for (const mount of node.mounts) {
    add('host', mount.server);
    add('file', mount.at);
  }
  // A neighbour that nobody declares is named by findings all the same.
  for (const { systemName, chassis, chassisKind } of node.neighbours ?? [])
    add(
      'system',
      systemName,
      systemName?.split('.')[0],
      chassisKind === 'mac' ? undefined : chassis,
    );
}

/** What the names in a history are to be found by. */
export interface HistoryNames {
  /** Absent: none is at hand. */
  readonly intent?: Intent | undefined;
  /** Every node that was ever read, as it was last. */
  readonly surveys: readonly NodeSurvey[];
}

/** Everything in a history that names the site or its things. */
export function historyNames(
  { site, timeline }: HistoryView,
  { intent, surveys }: HistoryNames,
): Map<string, HiddenKind> {
  const { names, add } = collector();
  add('site', site);
  for (const node of intent?.nodes ?? []) addNode(node, add);
  if (intent !== undefined) addIntent(intent, add);
  for (const survey of surveys) addSurvey(survey, add);
  for (const event of timeline.events) {
    if (event.kind === 'changed') addChange({ ...event, kind: 'fact' }, add);
    else if (event.kind === 'grown') add('node', event.node);
    else if (event.kind === 'proven') add('node', event.fit.from, event.fit.to);
    else if (event.kind === 'measured') add('node', event.transfer.from, event.transfer.to);
    else addSubject({ kind: event.subjectKind, id: event.subject }, add);
  }
  return names;
}

/** What the nights before knew and tonight's intent and survey may no longer have. */
function addMoved({ settlement, changes, asleep }: Moved, add: Add): void {
  for (const { subject } of settlement.cleared) addSubject(subject, add);
  add('node', ...asleep.map(({ node }) => node));
  for (const change of changes) addChange(change, add);
}

/** Nodes and subjects that the history has and that may be in nobody's intent any more. */
function addPast({ ports, away, findings }: PagePast, add: Add): void {
  add('node', ...ports.map(({ node }) => node), ...away.map(({ node }) => node));
  for (const { subject } of findings) addSubject(subject, add);
}

/** Names in the identifier of a subject: `node`, `node:port`, `node:port - node:port`, a path. */
function addSubject({ kind, id }: { readonly kind: string; readonly id: string }, add: Add): void {
  if (kind === 'port' || kind === 'link') {
    add('node', ...id.split(' - ').map((end) => end.split(':')[0]));
  } else {
    add(kind, id, id.split(' (')[0]);
    add('node', ...(/ \((.+) to (.+)\)$/.exec(id)?.slice(1) ?? []));
  }
}

/** Facts whose old and new values name somebody, with what they name. */
const namingFacts: Readonly<Record<string, HiddenKind>> = {
  alias: 'text',
  engineId: 'id',
  hostKey: 'id',
  systemName: 'system',
  systemText: 'text',
};

function addChange(change: Change, add: Add): void {
  add('node', change.node);
  if (change.kind !== 'fact') return;
  const { fact, was, is } = change;
  for (const value of [was, is]) {
    const kind = Object.hasOwn(namingFacts, fact) ? namingFacts[fact] : undefined;
    if (kind !== undefined && typeof value === 'string') add(kind, value);
    // The name of a neighbour stands before that of its port.
    if (fact === 'neighbour' && typeof value === 'object') {
      add('node', ...value.map((each) => String(each).replace(/ \S*$/, '')));
    }
  }
}
