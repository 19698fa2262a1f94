import type { FactValue } from '../facts/entry.ts';
import { type PortRef, portRef } from '../site/site-index.ts';
import { wantedMtus } from './apply-steps.ts';
import { lineParts } from './asked-line.ts';
import { cordOutcome, deviceOutcome } from './cabling-outcomes.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import type { StepOutcome } from './confirmation.ts';
import { factReader, type ReadFact, sameValue, whyAbsent } from './port-reading.ts';
import { stepFact } from './step-facts.ts';
import { cannotTell, looked, type StepVerdict } from './step-verdict.ts';
import type { ChangeStep } from './types.ts';

interface Readers {
  readonly before: ReadFact;
  readonly foretold: ReadFact;
}

/** What became of each step of the order, those beyond the ones that are to be done by now too. */
export function stepOutcomes(bench: ConfirmBench): StepOutcome[] {
  const readers = { before: factReader(bench.kept), foretold: factReader(bench.foretold.survey) };
  return bench.order.map((step, at) => {
    const expected = at < bench.upTo;
    const told = verdictOf(bench, readers, { step, expected });
    return {
      number: at + 1,
      id: step.id,
      on: step.port ?? step.node,
      node: step.node,
      setting: step.setting,
      ...(step.from === undefined ? {} : { from: step.from }),
      to: step.to,
      expected,
      ahead: !expected && told.verdict === 'done' && !foretoldSo(step, readers),
      ...told,
    };
  });
}

interface Asked {
  readonly step: ChangeStep;
  readonly expected: boolean;
}

/** One step against what was read; a new setting is judged here. */
function verdictOf(bench: ConfirmBench, readers: Readers, asked: Asked): StepVerdict {
  const { step } = asked;
  const view = bench.index.nodes.get(step.node);
  if (view?.declared.unread !== undefined) return cannotTell(step, `nobody reads ${step.node}`);
  if (step.setting === 'link') return looked(step, cordOutcome(bench, step, asked.expected));
  if (step.setting === 'node') return looked(step, deviceOutcome(bench, step));
  if (step.port === undefined) return nodeVerdict(bench, readers, asked);
  const parts = lineParts(step).map((part) => ({ ...asked, step: part }));
  const verdicts = parts.map((part) => ({ ...part, told: portVerdict(bench, readers, part) }));
  const [only, ...more] = verdicts;
  return only !== undefined && more.length === 0 ? only.told : together(step, verdicts, readers);
}

interface Part {
  readonly step: ChangeStep;
  readonly told: StepVerdict;
}

/** Several facts of one port that one step sets: done where each is, as before where each is. */
function together(step: ChangeStep, parts: readonly Part[], readers: Readers): StepVerdict {
  const of = (verdict: StepOutcome['verdict']) =>
    parts.filter(({ told }) => told.verdict === verdict);
  const wrong = [...of('other'), ...of('not-done')];
  const [dark] = of('cannot-tell');
  if (wrong.length === 0)
    return dark === undefined ? { verdict: 'done' } : cannotTell(step, dark.told.why ?? 'not read');
  const why = wrong.map(({ step: { setting }, told }) => `${setting} is ${String(told.is)}`);
  const untouched = parts.every(({ step: part, told }) =>
    told.verdict === 'done' ? wasSo(part, readers) : told.verdict === 'not-done',
  );
  return { verdict: untouched ? 'not-done' : 'other', why: why.join(', ') };
}

/** A part of a step that asks for what was so before. */
function wasSo({ node, portName, setting, to }: ChangeStep, { before }: Readers): boolean {
  const fact = stepFact(setting);
  return (
    fact !== undefined && portName !== undefined && sameValue(before(node, portName, fact), to)
  );
}

/** Whether the steps up to now lead to what a later step asks for by themselves. */
function foretoldSo(step: ChangeStep, { foretold }: Readers): boolean {
  return lineParts(step).every(({ node, portName, setting, to }) => {
    const fact = stepFact(setting);
    return (
      fact !== undefined && portName !== undefined && sameValue(foretold(node, portName, fact), to)
    );
  });
}

/** The port that a step sets, as it is found now; undefined: the whole node, or no such node. */
export function portOfStep({ index }: ConfirmBench, step: ChangeStep): PortRef | undefined {
  const view = index.nodes.get(step.node);
  if (view === undefined || step.port === undefined) return undefined;
  return portRef(index.ports, view, step.port.slice(step.node.length + 1));
}

function portVerdict(bench: ConfirmBench, readers: Readers, asked: Asked): StepVerdict {
  const { step } = asked;
  const ref = portOfStep(bench, step);
  const fact = stepFact(step.setting) ?? 'mtuBytes';
  const is = ref?.survey?.facts[fact];
  if (is === undefined)
    return cannotTell(step, whyAbsent(ref?.node, ref?.name ?? step.portName ?? '', fact));
  return { verdict: compared(is, targetOf(readers, asked, step.portName)), is };
}

interface Target {
  readonly want: FactValue;
  /** Absent: not known. */
  readonly before: FactValue | undefined;
  readonly expected: boolean;
}

function targetOf(
  { before, foretold }: Readers,
  { step, expected }: Asked,
  portName: string | undefined,
): Target {
  const fact = stepFact(step.setting) ?? 'mtuBytes';
  const was = portName === undefined ? undefined : before(step.node, portName, fact);
  const foretoldNow = portName === undefined ? undefined : foretold(step.node, portName, fact);
  return expected
    ? { want: foretoldNow ?? step.to, before: was, expected }
    : { want: step.to, before: foretoldNow ?? was, expected };
}

function compared(
  is: FactValue,
  { want, before, expected }: Target,
): 'done' | 'not-done' | 'other' {
  if (sameValue(is, want)) return 'done';
  // Of what was not known before, nothing says that it moved.
  const asBefore = before === undefined ? !expected : sameValue(is, before);
  return asBefore ? 'not-done' : 'other';
}

/** A setting of all ports of a node: done where every one of them has it. */
function nodeVerdict(bench: ConfirmBench, readers: Readers, asked: Asked): StepVerdict {
  const { step } = asked;
  const view = bench.index.nodes.get(step.node);
  const kept = bench.kept.nodes.find(({ node }) => node === step.node);
  const listed = kept !== undefined && kept.ports.length > 0 ? kept : view?.survey;
  const names = listed === undefined ? [] : [...wantedMtus(listed, [step]).keys()];
  const ports = names.map((name) => {
    const is = view?.ports.get(name)?.facts.mtuBytes;
    const target = targetOf(readers, asked, name);
    const verdict = is === undefined ? ('cannot-tell' as const) : compared(is, target);
    return { name, is, verdict, moves: !sameValue(target.want, target.before) };
  });
  const those = (verdict: StepOutcome['verdict']) =>
    ports.filter((each) => each.verdict === verdict);
  const [dark] = those('cannot-tell');
  const wrong = ports.filter(({ verdict }) => verdict === 'not-done' || verdict === 'other');
  if (wrong.length === 0) {
    if (ports.length > 0 && dark === undefined) return { verdict: 'done' };
    return cannotTell(step, whyAbsent(view, dark?.name ?? '', 'mtuBytes'));
  }
  const moved = those('done').some(({ moves }) => moves);
  const why = wrong.map(({ name, is }) => `${name} is at ${String(is)}`).join(', ');
  return { verdict: moved || those('other').length > 0 ? 'other' : 'not-done', why };
}
