import { cleanText } from '../../facts/clean-text.ts';
import type { Gap } from '../../facts/gap.ts';
import type { RouteReading } from '../../facts/survey.ts';
import { gap } from './draft.ts';
import { type Framed, type Section, sectionsOf } from './frames.ts';
import { missing, refusal } from './linux-evidence.ts';

/** Status of a shell for a command that it may not run (126) or has not (127), or more. */
const notRun = 126;

/** The routes that were asked for, one by one, and why some of them are not there. */
export interface AskedRoutes {
  readonly routes: readonly RouteReading[];
  /** Absent: every question was answered, with a route or with the words that there is none. */
  readonly gap?: Gap;
}

/**
 * The answers to the questions for a route. What a shell says of a command that it has not, and
 * what no pattern accepts, is no answer: "there is no route" must have been said.
 *
 * @param parse undefined where the command succeeded and printed no route
 */
export function askedRoutes(
  framed: Framed,
  parse: (section: Section) => RouteReading | undefined,
): AskedRoutes {
  const routes: RouteReading[] = [];
  let lost: Gap | undefined = framed.core ? undefined : missing(framed, '');
  for (const section of sectionsOf(framed, 'route')) {
    const route = section.status < notRun ? parse(section) : undefined;
    if (route !== undefined) routes.push(route);
    else lost ??= section.status < notRun ? unreadable(section) : refusal(section);
  }
  return { routes, ...(lost === undefined ? {} : { gap: lost }) };
}

function unreadable({ about, output }: Section): Gap {
  return gap('unreadable', `no route to ${about} in "${cleanText(output, 80)}"`);
}
