import { gapOf } from '../facts/subject.ts';
import type { ConfirmBench } from './confirm-stage.ts';
import { noPort } from './cords.ts';
import type { StepVerdict } from './step-verdict.ts';
import type { ChangeStep } from './types.ts';

/**
 * A moved cord, judged by who announces itself where it stays; one that was taken away by its link,
 * which has to be down. `expected`: the state of now declares it in its new place.
 */
export function cordOutcome(bench: ConfirmBench, step: ChangeStep, expected: boolean): StepVerdict {
  const subject = bench.foundSite.ports.find(({ id }) => id === step.port)?.subject;
  if (step.to === noPort) return takenAway(bench, step);
  const declared = subject?.facts['neighbourDeclared'];
  // What the state of now declares is the new place only where the step is to be done by now.
  if (declared === true) return { verdict: expected ? 'done' : 'not-done' };
  const heard = subject?.facts['neighbour'];
  if (declared === false && typeof heard === 'string')
    return { verdict: verdictOfHeard(heard, step), why: `${heard} is heard there` };
  const gap = subject && gapOf(subject, 'neighbourDeclared');
  const why = gap?.words ?? 'nothing that is read tells who is at its other end';
  return { verdict: 'cannot-tell', why };
}

function verdictOfHeard(heard: string, { from, to }: ChangeStep): StepVerdict['verdict'] {
  if (heard === to) return 'done';
  return heard === from ? 'not-done' : 'other';
}

function takenAway(
  { survey }: ConfirmBench,
  { node, portName = '', port }: ChangeStep,
): StepVerdict {
  const facts = survey.nodes
    .find((each) => each.node === node)
    ?.ports.find(({ name }) => name === portName)?.facts;
  if (facts?.operUp === undefined)
    return { verdict: 'cannot-tell', why: `whether ${port ?? node} has a link was not read` };
  return facts.operUp
    ? { verdict: 'not-done', why: `${port ?? node} still has a link` }
    : { verdict: 'done' };
}

/** Facts of a node that another device would have otherwise, the surest first. */
const signs = ['engineId', 'sysObjectId'] as const;

/** A replaced device, judged by what tells devices apart: its SNMP engine, else its kind. */
export function deviceOutcome({ kept, survey }: ConfirmBench, { node }: ChangeStep): StepVerdict {
  const facts = (of: ConfirmBench['kept']) => of.nodes.find((each) => each.node === node)?.facts;
  const [was, is] = [facts(kept), facts(survey)];
  const sign = signs.find((name) => was?.[name] !== undefined && is?.[name] !== undefined);
  if (sign === undefined)
    return { verdict: 'cannot-tell', why: 'nothing that was read tells one device from another' };
  if (was?.[sign] !== is?.[sign]) return { verdict: 'done' };
  // Two devices of one kind have one identifier of their kind.
  return sign === 'engineId'
    ? { verdict: 'not-done', why: `its SNMP engine is the one of before, ${String(is?.[sign])}` }
    : { verdict: 'cannot-tell', why: 'it is a device of the same kind as before, or the same one' };
}
