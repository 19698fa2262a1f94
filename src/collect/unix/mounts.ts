import { cleanText } from '../../facts/clean-text.ts';
import type { MountReading } from '../../facts/survey.ts';
import { entryOf, firstGroup, textLines } from './text.ts';

const mountsMax = 256;

const kinds: Readonly<Record<string, MountReading['kind']>> = {
  nfs: 'nfs',
  nfs4: 'nfs',
  cifs: 'smb',
  smb3: 'smb',
  smbfs: 'smb',
  afpfs: 'afp',
};

/**
 * Reads lines of `/proc/mounts`. The server is the numeric address that the kernel uses where
 * the options name it, else what the device names.
 */
export function parseProcMounts(output: string): readonly MountReading[] {
  return textLines(output)
    .slice(0, mountsMax)
    .flatMap((line) => {
      const [device = '', at = '', type = '', options = ''] = line.split(' ');
      const kind = entryOf(kinds, type);
      if (kind === undefined) return [];
      const numeric = firstGroup(`,${options},`, /,addr=([0-9A-Fa-f.:]+),/);
      return mountOf(numeric ?? serverOf(unescaped(device)), kind, unescaped(at));
    });
}

/** Reads what `mount` prints on macOS and FreeBSD: `198.18.0.9:/vol on /Volumes/vol (nfs, nodev)`. */
export function parseBsdMounts(output: string): readonly MountReading[] {
  return textLines(output)
    .slice(0, mountsMax)
    .flatMap((line) => {
      const [, device = '', at = '', type = ''] =
        /^(\S+) on (.+) \((\w+)[^()]*\)$/.exec(line) ?? [];
      const kind = entryOf(kinds, type);
      return kind === undefined ? [] : mountOf(serverOf(device), kind, at);
    });
}

/** Host of `host:/path`, `[v6]:/path` or `//user@host/share`; a user name is never kept. */
function serverOf(device: string): string | undefined {
  const host =
    firstGroup(device, /^\/\/(?:[^/]*@)?([^/@]+)(?:\/|$)/) ??
    firstGroup(device, /^(\[[^\]]+\]|[^:/]+):\//);
  return host?.replace(/^\[|\]$/g, '');
}

function mountOf(
  server: string | undefined,
  kind: MountReading['kind'],
  at: string,
): readonly MountReading[] {
  const clean = cleanText(server ?? '');
  return clean === '' ? [] : [{ server: clean, kind, at: cleanText(at) }];
}

/** The kernel writes blanks in names as octal escapes. */
function unescaped(text: string): string {
  return text.replace(/\\(040|011|012|134)/g, (_, octal: string) =>
    String.fromCharCode(Number.parseInt(octal, 8)),
  );
}
