import type { FindingLife } from '../../../drift/site-past.ts';
import { gist } from '../../finding-gist.ts';
import { timeWords } from '../../summary-line.ts';
import { groupBy } from '../group-by.ts';
import { type Markup, markup } from '../markup.ts';
import type { PagePast } from './page-past.ts';

/** Lives of one finding that are listed, the latest last. */
const livesMax = 20;

/** Gives the history of one finding by its id; made once for a page. */
export function findingPasts(past: PagePast): (id: string) => Markup | undefined {
  const lives = groupBy(past.findings, ({ id }) => id);
  return (id) => {
    const own = lives.get(id);
    return own === undefined ? undefined : livesMarkup(own);
  };
}

function livesMarkup(lives: readonly FindingLife[]): Markup {
  const shown = lives.slice(-livesMax);
  const left = lives.length - shown.length;
  const items = shown
    .flatMap(lifeEvents)
    .map(
      ({ at, words }) => markup`<li><time datetime="${at}">${timeWords(at)}</time> ${words}</li>`,
    );
  const earlier = left > 0 ? markup`<li>${left} earlier lives are left out</li>` : undefined;
  return markup`<ol class="finding-past">${earlier}${items}</ol>`;
}

interface LifeEvent {
  readonly at: string;
  readonly words: string;
}

/** Its words are those of the last audit that had it: earlier ones are not kept. */
function lifeEvents(life: FindingLife): LifeEvent[] {
  const { since, toldAt, clearedAt, lastAt, nights, what, verdict } = life;
  const said = what === undefined ? verdict : `${verdict}: ${gist(what)}`;
  const later = toldAt !== undefined && toldAt !== since;
  return [
    { at: since, words: toldAt === since ? 'first seen and told' : 'first seen' },
    ...(later ? [{ at: toldAt, words: 'told' }] : []),
    { at: lastAt, words: `last seen, ${nightWords(nights)} in a row; ${said}` },
    ...(clearedAt === undefined ? [] : [{ at: clearedAt, words: 'cleared' }]),
  ];
}

function nightWords(nights: number): string {
  return nights === 1 ? '1 night' : `${nights} nights`;
}
