import { gapOf } from '../facts/subject.ts';
import { buildSite } from '../site/build-site.ts';
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
  const later = laidLater(bench, step);
  const isApart = later !== undefined || step.from === noPort;
  const heard = subject?.facts['neighbour'] ?? (isApart ? heardBefore(bench, step) : undefined);
  if (step.to === noPort)
    return later === undefined ? takenAway(bench, step) : takenOut(bench, step, { later, heard });
  const declared = subject?.facts['neighbourDeclared'];
  // What the state of now declares is the new place only where the step is to be done by now.
  if (declared === true) return { verdict: expected ? 'done' : 'not-done' };
  if (typeof heard === 'string')
    return { verdict: verdictOfHeard(heard, bench, step), why: `${heard} is heard there` };
  if (step.from === noPort && linkUp(bench, step) === false)
    return { verdict: 'not-done', why: `${step.port ?? step.node} has no link` };
  const gap = subject && gapOf(subject, 'neighbourDeclared');
  const why = gap?.words ?? 'nothing that is read tells who is at its other end';
  return { verdict: 'cannot-tell', why };
}

/** Who announces himself at a port of which no link is declared while its cord is out. */
function heardBefore({ planned, survey }: ConfirmBench, { port }: ChangeStep): unknown {
  const site = buildSite(planned.intent, survey, { strict: false });
  return site.ports.find(({ id }) => id === port)?.subject.facts['neighbour'];
}

function verdictOfHeard(
  heard: string,
  { order }: ConfirmBench,
  step: ChangeStep,
): StepVerdict['verdict'] {
  if (heard === step.to) return 'done';
  const out = order.find((each) => each.port === step.port && isOut(each));
  return heard === (step.from === noPort ? out?.from : step.from) ? 'not-done' : 'other';
}

function isOut({ cord, to }: ChangeStep): boolean {
  return cord !== undefined && to === noPort;
}

/** The step that lays a cord anew at the end at which this one takes it out. */
function laidLater({ order }: ConfirmBench, step: ChangeStep): ChangeStep | undefined {
  if (!isOut(step)) return undefined;
  return order.find((each) => each.port === step.port && each.cord?.lays !== undefined);
}

/** Whether the port of a step has a link; undefined: that was not read. */
function linkUp({ survey }: ConfirmBench, { node, portName }: ChangeStep): boolean | undefined {
  const ports = survey.nodes.find((each) => each.node === node)?.ports;
  return ports?.find(({ name }) => name === portName)?.facts.operUp;
}

function takenAway(bench: ConfirmBench, step: ChangeStep): StepVerdict {
  const on = step.port ?? step.node;
  const up = linkUp(bench, step);
  if (up === undefined)
    return { verdict: 'cannot-tell', why: `whether ${on} has a link was not read` };
  return up ? { verdict: 'not-done', why: `${on} still has a link` } : { verdict: 'done' };
}

interface Laid {
  readonly later: ChangeStep;
  /** Who announces himself there; absent: nobody. */
  readonly heard: unknown;
}

/** A cord that is laid anew later is out where its port has no link, or no longer the old one. */
function takenOut(bench: ConfirmBench, step: ChangeStep, { later, heard }: Laid): StepVerdict {
  const on = step.port ?? step.node;
  const up = linkUp(bench, step);
  if (up === false) return { verdict: 'done' };
  if (typeof heard === 'string') {
    const why = `${heard} is heard there`;
    if (heard === step.from) return { verdict: 'not-done', why };
    return heard === later.to ? { verdict: 'done' } : { verdict: 'done', why };
  }
  const why =
    up === undefined
      ? `whether ${on} has a link was not read`
      : `${on} has a link, and nothing that is read tells whether the old one`;
  return { verdict: 'cannot-tell', why };
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
