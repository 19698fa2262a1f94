import type { StepDisturbance } from '../change/disturbed.ts';

/** Names that are told of one kind. */
const namesShownMax = 4;

/** What stops while a step is taken, a phrase each; nothing where nothing does. */
export function disturbanceWords(step: StepDisturbance): string[] {
  const { cut, detoured, sessions, sessionsOf, sessionsUnread, outOfReach = [] } = step;
  return [
    ...(cut.length === 0 ? [] : [`no way for ${named(cut)}`]),
    ...(detoured.length === 0 ? [] : [`another way for ${named(detoured)}`]),
    ...(sessions === 0
      ? []
      : [
          `${sessions} live TCP ${sessions === 1 ? 'session' : 'sessions'} of ${named(sessionsOf)}`,
        ]),
    ...(sessionsUnread.length === 0 ? [] : [`sessions of ${named(sessionsUnread)} were not read`]),
    ...(outOfReach.length === 0 ? [] : [`out of your reach: ${named(outOfReach)}`]),
  ];
}

function named(names: readonly string[]): string {
  const left = names.length - namesShownMax;
  return `${names.slice(0, namesShownMax).join(', ')}${left > 0 ? ` and ${left} more` : ''}`;
}
