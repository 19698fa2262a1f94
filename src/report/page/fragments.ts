import { createHash } from 'node:crypto';

/** Longest slug that is written out, in UTF-16 units; a longer one ends in a digest of the whole. */
const slugLengthMax = 120;
const slugHeadLength = 80;

/** The fragment of a node on the page. */
export function nodeFragment(name: string): string {
  return `node-${slug(name)}`;
}

/** The fragment of a port by its node and its name on it; `node:port` is its identifier elsewhere. */
export function portFragment(node: string, port: string): string {
  return `port-${slug(`${node}:${port}`)}`;
}

/** The fragment of a link by its identifier in the intent. */
export function linkFragment(id: string): string {
  return `link-${slug(id)}`;
}

/** The fragment of a path by its identifier, which is its name where it has one pair of ends. */
export function pathFragment(id: string): string {
  return `path-${slug(id)}`;
}

/** The fragment of a finding by its identifier, the same every night. */
export function findingFragment(id: string): string {
  return `finding-${slug(id)}`;
}

/** The folder of a site among the pages of several. */
export function siteFolder(name: string): string {
  return `site-${inOneCase(slug(name))}`;
}

/** The file of a node among the pages of a site. */
export function nodeFile(name: string): string {
  return `${inOneCase(nodeFragment(name))}.html`;
}

/** Two names that differ in their case alone are two files on every file system. */
function inOneCase(text: string): string {
  return text.replace(/[A-Z]/g, (letter) => `~${letter.charCodeAt(0).toString(16)}`);
}

/**
 * A name as part of an `id` and of an `href`: letters, digits, `-`, `.` and `_` stay, anything else
 * becomes `~` with its code, so that no two names have one slug. A flood ends in a digest.
 */
function slug(name: string): string {
  const coded = name.replace(/[^A-Za-z0-9._-]/g, (unit) => {
    const code = unit.charCodeAt(0);
    const [lead, digits] = code < 0x80 ? ['~', 2] : ['~u', 4];
    return lead + code.toString(16).padStart(digits, '0');
  });
  if (coded.length <= slugLengthMax) return coded;
  const digest = createHash('sha256').update(coded).digest('hex').slice(0, 24);
  return `${coded.slice(0, slugHeadLength)}~~${digest}`;
}
