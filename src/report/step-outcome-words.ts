import type { Confirmation, FollowerOutcome, StepOutcome } from '../change/confirmation.ts';
import { noPort } from '../change/cords.ts';
import type { FactValue } from '../facts/entry.ts';
import type { ConfirmPart } from './confirm-parts.ts';
import { isDark, isOtherwise, isWrong } from './confirm-status.ts';
import { factWords, valueWords } from './fact-words.ts';
import { stepValueWords } from './step-words.ts';

/** The steps of a confirmation: what is wrong each by itself, what is well by their numbers. */
export function stepParts({ steps }: Confirmation): ConfirmPart[] {
  const done = steps.filter(({ expected, verdict }) => expected && verdict === 'done');
  const later = steps.filter(({ expected }) => !expected);
  const left = later.filter(({ verdict }) => verdict === 'not-done' || verdict === 'cannot-tell');
  const list = (label: string, tone: ConfirmPart['tone'], those: readonly StepOutcome[]) => ({
    label,
    tone,
    items: those.flatMap(stepItems),
  });
  const ofVerdict = (those: readonly StepOutcome[], verdict: StepOutcome['verdict']) =>
    those.filter((step) => step.verdict === verdict);
  const wrong = steps.filter(isWrong);
  return [
    list('not done', 'wrong', ofVerdict(wrong, 'not-done')),
    list('otherwise', 'wrong', [...ofVerdict(wrong, 'other'), ...ofVerdict(later, 'other')]),
    list('cannot tell', 'unknown', steps.filter(isDark)),
    list(
      'ahead',
      'plain',
      later.filter(({ ahead }) => ahead),
    ),
    { label: 'done', tone: 'quiet', items: spans(done) },
    { label: 'to do', tone: 'quiet', items: spans(left) },
  ];
}

function stepItems(step: StepOutcome): string[] {
  const { number, on, look } = step;
  const told = wordsOf(step);
  const words = `step ${number}, ${told.startsWith(`${on} `) ? told : `${on}: ${told}`}`;
  return [words, ...(look === undefined ? [] : [look])];
}

/** A cord that is to be in no port at all. */
function isTakenAway({ setting, to }: StepOutcome): boolean {
  return setting === 'link' && to === noPort;
}

function wordsOf(step: StepOutcome): string {
  const { setting, from, to, is, why, verdict, expected, ahead } = step;
  const name = setting === 'link' ? 'cord' : setting;
  const say = (value: FactValue) => stepValueWords(setting, value);
  const late = expected ? '' : '; its turn comes later';
  if (ahead)
    return isTakenAway(step)
      ? `its cord is taken away already${late}`
      : `${name} is ${say(to)} already${late}`;
  if (verdict === 'cannot-tell')
    return isTakenAway(step)
      ? `whether its cord is taken away: ${why ?? 'not read'}`
      : `${name} to ${say(to)}: ${why ?? 'not read'}`;
  const seen = is === undefined ? (why ?? 'not as asked for') : `${name} is ${say(is)}`;
  if (isTakenAway(step)) return `${seen}; its cord is to be taken away${late}`;
  if (verdict === 'not-done') return `${seen}, as before; to be ${say(to)}`;
  const was = from === undefined ? '' : `, and was ${say(from)} before`;
  return `${seen}; to be ${say(to)}${was}${late}`;
}

/** Numbers of steps as people write them: `steps 1 to 3, 5`. */
function spans(steps: readonly StepOutcome[]): string[] {
  const runs: { from: number; to: number }[] = [];
  for (const { number } of steps) {
    const last = runs.at(-1);
    if (last !== undefined && last.to === number - 1) last.to = number;
    else runs.push({ from: number, to: number });
  }
  if (runs.length === 0) return [];
  const words = runs.map(({ from, to }) => (from === to ? `${from}` : `${from} to ${to}`));
  return [`step${steps.length === 1 ? '' : 's'} ${words.join(', ')}`];
}

/** What follows from steps on other ports and is not as foretold, or cannot be seen to be. */
export function followerParts({ followers }: Confirmation): ConfirmPart[] {
  const list = (label: string, tone: ConfirmPart['tone'], those: readonly FollowerOutcome[]) => ({
    label,
    tone,
    items: those.map(followerWords),
  });
  return [
    list('otherwise', 'wrong', followers.filter(isOtherwise)),
    list(
      'cannot tell',
      'unknown',
      followers.filter((each) => !isOtherwise(each)),
    ),
  ];
}

function followerWords({ on, fact, foretold, is, why }: FollowerOutcome): string {
  const name = factWords(`port.${fact}`);
  const follows = `${valueWords(foretold)} was foretold, since it follows from a step`;
  return is === undefined
    ? `${on}: ${name}: ${why ?? 'not read'}; ${follows}`
    : `${on}: ${name} is ${valueWords(is)}; ${follows}`;
}
