import { linkFragment, nodeFile, nodeFragment } from '../fragments.ts';

/** Where what is drawn leads to, as an `href`. */
export interface Leads {
  readonly node: (name: string) => string;
  /** A declared link by its id, with the names of the nodes at its ends. */
  readonly link: (id: string, ends: readonly [string, string]) => string;
}

/** To the details on the page of the drawing, which has all of the site. */
export const onThisPage: Leads = {
  node: (name) => `#${nodeFragment(name)}`,
  link: (id) => `#${linkFragment(id)}`,
};

/** From the index of a large site: to the pages of its nodes. */
export const toNodePages: Leads = {
  node: nodeFile,
  link: (id, [node]) => `${nodeFile(node)}#${linkFragment(id)}`,
};

/** From the page of one node: its own details are there, other nodes have pages of their own. */
export function fromNodePage(own: string): Leads {
  return {
    node: (name) => (name === own ? onThisPage.node(name) : nodeFile(name)),
    link: onThisPage.link,
  };
}
