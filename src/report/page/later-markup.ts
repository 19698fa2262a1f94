import { type Markup, markup } from './markup.ts';

/** Markup that the page carries packed and shows once it is opened, by the id of what opens it. */
export type LaterMarkup = Map<string, Markup>;

/**
 * Content of a `details` element: as it is, or kept for later, so that a page of thousands stays
 * small and quick. Without script it says where else the same is told.
 */
export function laterOr(
  later: LaterMarkup | undefined,
  id: string,
  content: Markup,
  elsewhere: string,
): Markup {
  if (later === undefined) return content;
  later.set(id, content);
  return markup`<p class="later">shown by the script of this page; without it, see ${elsewhere}</p>`;
}
