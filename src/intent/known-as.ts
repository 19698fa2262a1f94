import { createHash } from 'node:crypto';
import type { Access, DeclaredNode } from './types.ts';

/**
 * Name under which the host key of a node is recorded where one address stands for other machines at
 * other sites: `vault.the-depot.1a2b3c4d`. The digest keeps apart what only looks alike.
 */
export function knownAs(site: string, node: string): string {
  const digest = createHash('sha256')
    .update(JSON.stringify([site, node]))
    .digest('hex');
  return `${plain(node)}.${plain(site)}.${digest.slice(0, 8)}`;
}

function plain(text: string): string {
  const word = text.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  return word.replace(/^-|-$/g, '').slice(0, 60) || 'x';
}

/** A node whose accesses know the name of its host key, where they keep keys by site. */
export function withKnownAs(node: DeclaredNode, site: string): DeclaredNode {
  const named = (access: Access): Access =>
    access.via === 'ssh' && access.hostKeys === 'by-site'
      ? { ...access, knownAs: knownAs(site, node.name) }
      : access;
  return { ...node, access: node.access.map(named) };
}
