import { knownSegments, type Lacking, lackingIn } from '../../draft/against-intent.ts';
import { draftText } from '../../draft/draft-text.ts';
import { makeDraft } from '../../draft/make-draft.ts';
import { planOnto } from '../../draft/onto.ts';
import { unifiedPatch } from '../../draft/patch.ts';
import type { Draft, DraftSubject } from '../../draft/types.ts';
import type { Survey } from '../../facts/survey.ts';
import type { Intent } from '../../intent/types.ts';
import { exitStatuses } from '../../report/exit-status.ts';
import { clean } from '../../report/layout.ts';
import { buildSite } from '../../site/build-site.ts';
import { parsePrefix } from '../../site/route-lookup.ts';
import { doorOfNode, eachOnce, intentDoors, savedSubjects } from '../draft-declared.ts';
import { type AccessByName, type Door, doorOf, givenAccess, safeAccess } from '../draft-doors.ts';
import { readForDraft } from '../draft-reading.ts';
import { draftTold, patchTold } from '../draft-told.ts';
import type { Io } from '../io.ts';
import { requireIntent } from '../load-inputs.ts';
import type { DraftOptions } from '../options.ts';
import { RunFault } from '../run-fault.ts';
import { showCommands } from '../show-commands.ts';
import { savedSurvey } from '../take-survey.ts';
import { requireWritable, writeResult } from '../write-result.ts';

/** What was read, as a draft takes it, and what there is to say of the reading. */
interface Read {
  readonly subjects: readonly DraftSubject[];
  readonly survey: Survey;
  readonly notes: readonly string[];
}

/**
 * Reads what it is pointed at and writes a first intent, or a patch to one that exists. Gives 0
 * when every node was read, else 2.
 */
export async function draft(
  addresses: readonly string[],
  options: DraftOptions,
  io: Io,
): Promise<number> {
  requireSense(addresses, options);
  const intent = options.onto === undefined ? undefined : await requireIntent(options.onto, io);
  const byName = await givenAccess(options, io);
  const doors = eachOnce([
    ...intentDoors(intent),
    ...addresses.map((text) => doorOf(text, byName)),
  ]);
  if (options.showCommands === true) return showCommands(planOf(doors), io);
  await requireNew(options.out, io);
  const read = await readingOf(doors, { options, byName, intent }, io);
  if (intent === undefined) {
    const made = makeDraft({
      site: 'unnamed site',
      readAt: read.survey.endedAt,
      subjects: read.subjects,
    });
    requireAnything(made, read.notes);
    await writeResult(draftText(made), options.out, io, 'owner');
    tell(draftTold(made, read.notes, options.out), options, io);
    return statusOf(made);
  }
  return writePatch(intent, read, options, io);
}

function requireSense(addresses: readonly string[], { survey, onto, within }: DraftOptions): void {
  const fault = (words: string) => new RunFault(exitStatuses.usage, [clean(words)]);
  if (addresses.length === 0 && survey === undefined && onto === undefined) {
    throw fault('name at least one address of a host or switch, or --survey FILE');
  }
  if (survey !== undefined && (addresses.length > 0 || within.length > 0)) {
    throw fault(
      '--survey takes what was saved and reads nothing: leave the addresses and --within out',
    );
  }
  for (const prefix of within) {
    if (parsePrefix(prefix) === undefined)
      throw fault(`--within: '${prefix}' is no prefix; write 198.18.0.0/24 or 2001:db8::/64`);
  }
}

/** A draft of nothing would look like one, and stand in the way of the next. */
function requireAnything({ counts, notRead }: Draft, notes: readonly string[]): void {
  if (counts.read > 0) return;
  const lines = [...notRead, ...notes, 'nothing was read, so no draft was written'];
  throw new RunFault(exitStatuses.undetermined, lines.map(clean));
}

function planOf(doors: readonly Door[]): Parameters<typeof showCommands>[0] {
  const nodes = doors.map(({ at, access }) => ({
    name: at ?? 'this-machine',
    ...(at === undefined ? {} : { at }),
    access,
    peerNames: [],
  }));
  return { site: 'draft', nodes, whereabouts: new Map() };
}

/** A draft is corrected by hand: one that exists is never written over. */
async function requireNew(out: string | undefined, io: Io): Promise<void> {
  if (out === undefined) return;
  const there = await io.readTextFile(out);
  if (there.ok || there.reason !== 'no such file') {
    throw new RunFault(exitStatuses.cannotWrite, [
      clean(
        `${out}: there is a file already; name another, or use --onto ${out} for a patch to it`,
      ),
    ]);
  }
  await requireWritable(out, io);
}

interface Source {
  readonly options: DraftOptions;
  readonly byName: AccessByName;
  readonly intent: Intent | undefined;
}

async function readingOf(doors: readonly Door[], source: Source, io: Io): Promise<Read> {
  const { options, byName, intent } = source;
  if (options.survey !== undefined) {
    const survey = await savedSurvey(options.survey, io);
    return { survey, subjects: savedSubjects(survey, byName, intent), notes: [] };
  }
  const follow = { within: options.within, safe: safeAccess(byName) };
  const read = await readForDraft(doors, follow, io, { quiet: options.quiet === true });
  const names = new Map(intent?.nodes.map((node) => [doorOfNode(node).at ?? '', node.name]));
  const subjects = read.nodes.map(({ door, survey }): DraftSubject => {
    const name = names.get(door.at ?? '');
    return {
      survey: name === undefined ? survey : { ...survey, node: name },
      access: door.access,
      ...(door.at === undefined ? {} : { at: door.at }),
      ...(name === undefined ? {} : { name }),
    };
  });
  return {
    subjects,
    notes: read.notes,
    survey: {
      survey: 1,
      site: intent?.site ?? 'draft',
      startedAt: read.endedAt,
      endedAt: read.endedAt,
      nodes: subjects.map(({ survey }) => survey),
    },
  };
}

async function writePatch(
  intent: Intent,
  read: Read,
  options: DraftOptions,
  io: Io,
): Promise<number> {
  const site = buildSite(intent, read.survey, { strict: false });
  const own = new Set(read.subjects.flatMap(({ name }) => name ?? []));
  const things = [...intent.nodes, ...intent.segments, ...intent.paths];
  const made = makeDraft({
    site: intent.site,
    readAt: read.survey.endedAt,
    subjects: read.subjects,
    taken: things.map(({ name }) => name).filter((name) => !own.has(name)),
    segments: knownSegments(site),
    linked: new Set(site.links.flatMap(({ ends }) => ends.map(({ node }) => node))),
    hasPaths: intent.paths.length > 0,
  });
  const lacking = lackingIn(site, made);
  await writeResult(await patchText(lacking, options, io), options.out, io, 'owner');
  const told = { lacks: lacking.draft, differences: lacking.differences };
  tell(patchTold(told, read.notes, options.onto ?? ''), options, io);
  return statusOf(made);
}

async function patchText(
  { draft: lacks }: Lacking,
  options: DraftOptions,
  io: Io,
): Promise<string> {
  const file = options.onto ?? '';
  const source = await io.readTextFile(file);
  if (!source.ok) {
    throw new RunFault(exitStatuses.input, [clean(`${file}: cannot be read: ${source.reason}`)]);
  }
  const { insertions, refused } = planOnto(source.text, lacks);
  for (const { section, lines } of refused) {
    io.stderr.write(
      `${clean(`${file}: '${section}:' is written in one line and takes no patch; write it as a block, or add by hand:`)}\n`,
    );
    for (const line of lines) io.stderr.write(`  ${clean(line)}\n`);
  }
  return unifiedPatch(file, source.text, insertions);
}

function statusOf({ counts, notRead }: Draft): number {
  return notRead.length === 0 && counts.read > 0 ? exitStatuses.met : exitStatuses.undetermined;
}

/** What came of it, and what to do next; the draft itself is on stdout. */
function tell(lines: readonly string[], { quiet }: DraftOptions, io: Io): void {
  if (quiet === true) return;
  for (const line of lines) io.stderr.write(`${clean(line)}\n`);
}
