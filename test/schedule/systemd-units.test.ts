import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir, userInfo } from 'node:os';
import { basename, join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { isSystemdProgram, systemdCommand } from '../../src/schedule/systemd-command.ts';
import { systemdText } from '../../src/schedule/systemd-text.ts';
import { systemdUnits } from '../../src/schedule/systemd-units.ts';
import { night, oddWords } from './nightly.ts';

/**
 * A second reading of systemd.syntax(7) and of `COMMAND LINES` in systemd.service(5): words apart
 * by blanks, whole words in double quotes with C escapes, `%%` and, but in the first, `$$`.
 */
function wordsOfSystemd(line: string): string[] {
  const words: string[] = [];
  for (const [, quoted, bare] of line.matchAll(/"((?:[^"\\]|\\.)*)"|([^\s"]+)/g)) {
    const text = quoted === undefined ? (bare ?? '') : quoted.replaceAll(/\\(.)/g, '$1');
    const plain = text.replaceAll('%%', '%');
    words.push(words.length === 0 ? plain : plain.replaceAll('$$', '$'));
  }
  return words;
}

describe('a command for systemd', () => {
  it('is read back as the words that were meant', () => {
    const words = ['/opt/$a "b" %c/node', ...oddWords];
    expect(wordsOfSystemd(systemdCommand(words))).toEqual(words);
  });

  it('has nothing left that systemd would replace', () => {
    const command = systemdCommand(['/usr/bin/node', '/a/%h/$HOME', '"x" \\']);
    expect(command).toBe('/usr/bin/node /a/%%h/$$HOME "\\"x\\" \\\\"');
  });
});

describe('unit files', () => {
  const units = new Map(systemdUnits(night).map(({ path, text }) => [basename(path), text]));
  const lines = (name: string) => (units.get(name) ?? '').split('\n');

  it('are a service and a timer for the audit and for the watch', () => {
    expect([...units.keys()]).toEqual([
      'hopgauge-audit.service',
      'hopgauge-audit.timer',
      'hopgauge-watch.service',
      'hopgauge-watch.timer',
    ]);
  });

  const main = '/usr/local/lib/node_modules/hopgauge/dist/cli/main.js';
  const store = '--store /var/lib/hopgauge/history.sqlite';
  const rows = [
    [
      'the audit',
      'hopgauge-audit.service',
      `ExecStart=/usr/bin/node ${main} audit /etc/hopgauge/saltmarsh.yaml --changes ${store} --deadline 30m`,
    ],
    ['a minute beyond the deadline', 'hopgauge-audit.service', 'TimeoutStartSec=1860'],
    ['the account', 'hopgauge-audit.service', 'User=auditor'],
    ['a place to write', 'hopgauge-audit.service', 'StateDirectory=hopgauge'],
    ['a system that cannot be written', 'hopgauge-audit.service', 'ProtectSystem=strict'],
    ['no new rights', 'hopgauge-audit.service', 'NoNewPrivileges=yes'],
    ['no capability', 'hopgauge-audit.service', 'CapabilityBoundingSet='],
    ['a bound of memory', 'hopgauge-audit.service', 'MemoryMax=1G'],
    ['the hour', 'hopgauge-audit.timer', 'OnCalendar=*-*-* 02:00:00'],
    ['a night made up for', 'hopgauge-audit.timer', 'Persistent=true'],
    ['a spread', 'hopgauge-audit.timer', 'RandomizedDelaySec=10m'],
    [
      'the watch',
      'hopgauge-watch.service',
      `ExecStart=/usr/bin/node ${main} history --intent /etc/hopgauge/saltmarsh.yaml ${store} --complete-within 26h`,
    ],
    ['the hour of the watch', 'hopgauge-watch.timer', 'OnCalendar=*-*-* 08:00:00'],
  ] as const;
  for (const [what, file, line] of rows) {
    it(`have ${what}`, () => expect(lines(file)).toContain(line));
  }

  it('leave the failing of the watch to be seen', () => {
    expect(units.get('hopgauge-watch.service')).not.toContain('SuccessExitStatus');
  });

  it('are each in the text behind the place where they belong', () => {
    const text = systemdText(night);
    for (const { path, text: unit } of systemdUnits(night)) {
      expect(text).toContain(`# ---- ${path}\n${unit}`);
    }
    expect(text).not.toContain('root is not needed');
    expect(systemdText({ ...night, user: 'root' })).toContain('root is not needed');
  });
});

const hasVerify = spawnSync('systemd-analyze', ['--version']).status === 0;

/** Machines without systemd, macOS among them, have no such program; the run then says so. */
describe.skipIf(!hasVerify)('systemd-analyze verify', () => {
  /** Files as they would be installed, with a program whose path holds the odd words. */
  function installed(folderName: string): string[] {
    const root = mkdtempSync(join(tmpdir(), 'hopgauge-units-'));
    onTestFinished(() => rmSync(root, { recursive: true, force: true }));
    const program = join(root, folderName, 'node');
    mkdirSync(join(root, folderName), { recursive: true });
    writeFileSync(program, '#!/bin/sh\n');
    chmodSync(program, 0o755);
    const { username } = userInfo();
    const odd = { ...night, user: username, program: [program, '/usr/lib/$x/%h "y"/main.js'] };
    return systemdUnits(odd).map(({ path, text }) => {
      const file = join(root, basename(path));
      writeFileSync(file, text);
      return file;
    });
  }

  const said = (files: readonly string[]) => {
    const run = spawnSync('systemd-analyze', ['verify', '--man=no', ...files], {
      encoding: 'utf8',
      timeout: 15_000,
    });
    return { status: run.status, ours: run.stderr.split('\n').filter((l) => /hopgauge/.test(l)) };
  };

  for (const word of oddWords.filter(isSystemdProgram)) {
    it(`takes a program under ${word}`, () => {
      expect(said(installed(word))).toEqual({ status: 0, ours: [] });
    });
  }

  const refused = oddWords.filter((word) => !isSystemdProgram(word));
  it('has programs that it refuses', () => expect(refused).toHaveLength(3));
  for (const word of refused) {
    it(`refuses a program under ${word}, so that we do`, () => {
      const { status, ours } = said(installed(word));
      expect(status).toBe(1);
      expect(ours.join()).toContain('Executable name contains special characters');
    });
  }

  it('would have complained', () => {
    const files = installed('plain');
    const [service = ''] = files;
    execFileSync('sed', ['-i', 's/^ProtectSystem=.*/ProtectSystem=perhaps/', service]);
    expect(said(files).ours.join()).toContain(
      'Failed to parse protect system value, ignoring: perhaps',
    );
  });

  it('reads the hour as it was meant', () => {
    const said = execFileSync('systemd-analyze', ['calendar', '*-*-* 02:00:00'], {
      encoding: 'utf8',
    });
    expect(said).toContain('Normalized form: *-*-* 02:00:00');
  });
});
