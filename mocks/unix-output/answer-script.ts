import type { DescribedHost } from './described-host.ts';
import { renderFit } from './render-fit.ts';
import { renderFreebsd } from './render-freebsd.ts';
import { renderLinux } from './render-linux.ts';
import { renderMacos } from './render-macos.ts';
import { scriptParts } from './script-parts.ts';

/**
 * What the described host prints when it is sent `script` on the standard input of `sh -s`;
 * undefined where the script is not one of hopgauge's.
 */
export function answerScript(host: DescribedHost, script: string): string | undefined {
  // The trial of a door: a shell that runs what it is sent prints the mark.
  const mark = /^echo (door-[0-9a-f]+)\n$/.exec(script)?.[1];
  if (mark !== undefined) return `${mark}\n`;
  const parts = scriptParts(script);
  if (parts === undefined) return undefined;
  if (parts.fit !== undefined) return renderFit(host, { marker: parts.marker, ...parts.fit });
  return renderers[host.facts.systemKind](host, parts.marker, parts.peers);
}

const renderers = { linux: renderLinux, macos: renderMacos, freebsd: renderFreebsd } as const;
