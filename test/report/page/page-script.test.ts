import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { pageScript } from '../../../src/report/page/page-script.ts';

const compiler = resolve(import.meta.dirname, '../../../node_modules/.bin/tsc');
const strictly = [
  ...['--ignoreConfig', '--allowJs', '--checkJs', '--noEmit', '--strict'],
  ...['--noUncheckedIndexedAccess', '--noImplicitReturns', '--noUnusedLocals'],
  ...['--target', 'es2022', '--lib', 'es2023,dom,dom.iterable', '--types', ''],
];

/** What the compiler says of a script in a browser; empty: nothing. */
function faultsOf(script: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'hopgauge-script-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  writeFileSync(join(folder, 'page.js'), script);
  const { stdout, status } = spawnSync(compiler, [...strictly, 'page.js'], {
    cwd: folder,
    encoding: 'utf8',
  });
  return status === 0 ? '' : stdout || 'the compiler did not run';
}

describe('the script of the page', () => {
  it('has no fault that the compiler knows of', () => {
    expect(faultsOf(pageScript)).toBe('');
  });

  it('would be told of one', () => {
    const faulty = pageScript.replace('location.hash.slice(1)', 'location.hash + 1 - 1');
    expect(faulty).not.toBe(pageScript);
    expect(faultsOf(faulty)).toContain('error TS2362');
  });

  it('cannot end its own element', () => {
    expect(pageScript).not.toMatch(/<\/script|<!--/i);
  });

  it('asks nobody for anything', () => {
    expect(pageScript).not.toMatch(/fetch\(|XMLHttpRequest|WebSocket|sendBeacon|import\(|https?:/);
  });
});
