import { type Markup, markup } from '../markup.ts';
import { linkStates } from './link-state.ts';
import { stateWords } from './link-words.ts';
import type { MarkRoom } from './site-link-shape.ts';
import { bodyOf, hasSign, signOf } from './site-node-shape.ts';
import type { Sheet } from './site-sheets.ts';
import { standings, standingWords } from './standing.ts';

/** What the patterns and marks of a drawing mean: those that it has. */
export function siteKey({ nodes, links }: Sheet, room: MarkRoom): Markup {
  const states = linkStates
    .filter((state) => links.some(({ reading }) => reading.state === state))
    .map((state) =>
      sample(`link ${state}`, markup`<path class="line" d="M0 6H40"/>`, stateWords[state]),
    );
  const signs = standings
    .filter((standing) => nodes.some((node) => hasSign(node) && node.told.standing === standing))
    .map((standing) => ({
      standing,
      sign: markup`<g transform="translate(1 1)">${signOf(standing)}</g>`,
    }))
    .map(({ standing, sign }) => sample(standing, sign, standingWords[standing], 12));
  const kinds = (['switch', 'router', 'host'] as const)
    .filter((kind) => nodes.some((node) => node.kind === kind))
    .map((kind) =>
      sample(`node ${kind}`, bodyOf(kind, { x: 1, y: 1, width: 28, height: 10 }), kind, 30),
    );
  const readings = (['not read', 'on your word'] as const)
    .filter((reading) => nodes.some((node) => node.reading === reading))
    .map((reading) =>
      sample(
        `node ${reading.replaceAll(' ', '-')}`,
        markup`<rect class="body" x="1" y="1" width="38" height="10"/>`,
        `node ${reading}`,
      ),
    );
  const tie = links.some(({ lag }) => lag !== undefined)
    ? [
        sample(
          '',
          markup`<path class="line" d="M0 3H40M0 9H40"/><path class="tie" d="M30 1V11"/>`,
          'one aggregate',
        ),
      ]
    : [];
  const silent = links.some((link) => room(link) === '');
  const plain = silent ? [markup`<li>a link without words: as declared</li>`] : [];
  return markup`<ul class="site-key" aria-label="key">${[...states, ...tie, ...plain, ...kinds, ...readings, ...signs]}</ul>
`;
}

function sample(classes: string, shape: Markup, words: string, width = 40): Markup {
  return markup`<li><svg class="site" width="${width}" height="12" viewBox="0 0 ${width} 12" aria-hidden="true"><g class="${classes}">${shape}</g></svg> ${words}</li>`;
}
