import { spawn } from 'node:child_process';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reportForms } from '../../src/report/forms.ts';
import { type CanarySite, canaries, startCanarySite } from './canary-site.ts';

let site: CanarySite;
beforeAll(async () => {
  site = await startCanarySite();
});
afterAll(() => site.stop());

interface Ran {
  readonly code: number | null;
  readonly said: string;
  /** Command lines of all processes of this machine that named a canary. */
  readonly exposed: readonly string[];
  /** How often the list of processes was looked at. */
  readonly looks: number;
}

const loader = pathToFileURL(resolve('node_modules/tsx/dist/loader.mjs')).href;
const child = resolve('test/secrecy/child.ts');
const words = Object.values(canaries);
const named = (text: string) => words.filter((word) => text.includes(word));

/** Runs a command in the site's home, and looks at the list of processes all the while. */
function hopgauge(...argv: string[]): Promise<Ran> {
  return new Promise((done) => {
    const running = spawn(process.execPath, ['--import', loader, child, ...argv], {
      cwd: site.home,
      env: site.env,
    });
    let said = '';
    let looks = 0;
    const exposed = new Set<string>();
    const look = () => {
      looks += 1;
      for (const line of commandLines()) if (named(line).length > 0) exposed.add(line);
    };
    const watch = setInterval(look, 20);
    for (const stream of [running.stdout, running.stderr])
      stream.on('data', (chunk: Buffer) => {
        said += chunk.toString('utf8');
      });
    running.on('close', (code) => {
      clearInterval(watch);
      done({ code, said, exposed: [...exposed], looks });
    });
  });
}

function commandLines(): readonly string[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((pid) => {
      try {
        return [readFileSync(`/proc/${pid}/cmdline`, 'utf8')];
      } catch {
        // It has ended.
        return [];
      }
    });
}

function filesIn(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
}

const runs = [
  ['access', ['access', '--verbose']],
  ['survey', ['survey', '--out', 'survey.json', '--verbose']],
  ['survey as JSON', ['survey', '--format', 'json']],
  ...reportForms.map((form) => [
    `audit as ${form}`,
    ['audit', '--format', form, '--out', `report.${form}`, '--verbose'],
  ]),
  ['audit with history', ['audit', '--changes', '--store', 'state/history.sqlite', '--verbose']],
  ['what would be asked', ['audit', '--show-commands']],
  ['explain', ['explain', 'drawing', '--survey', 'survey.json']],
  ['a misspelt option', ['audit', '--pasword', 'x']],
] as [string, string[]][];

describe('no secret is seen', () => {
  it('by a watch that would see it', () => {
    const careless = spawn('sh', ['-c', 'sleep 5', canaries.KEY_WORDS], { stdio: 'ignore' });
    const seen = commandLines().flatMap(named);
    careless.kill();
    expect(seen).toContain(canaries.KEY_WORDS);
  });

  it.each(runs)('%s', { timeout: 60_000 }, async (_, argv) => {
    const { said, exposed, looks } = await hopgauge(...argv);
    expect(said.length).toBeGreaterThan(20);
    expect(named(said)).toEqual([]);
    expect(exposed).toEqual([]);
    expect(looks).toBeGreaterThan(3);
  });

  it('in any file that was left, and none but reports is for others', () => {
    const files = filesIn(site.home).filter((file) => file !== join(site.home, 'secrets'));
    const ours = files.filter((file) => !/\/(?:\.ssh\/|hopgauge\.yaml)/.test(file));
    expect(ours.length).toBeGreaterThan(reportForms.length);
    expect(files.filter((file) => named(readFileSync(file, 'latin1')).length > 0)).toEqual([]);
    const open = ours.filter((file) => (statSync(file).mode & 0o077) !== 0);
    expect(open.filter((file) => !/\/report\.[a-z]+$/.test(file))).toEqual([]);
    expect(statSync(join(site.home, 'state')).mode & 0o777).toBe(0o700);
    expect(ours.filter((file) => (statSync(file).mode & 0o111) !== 0)).toEqual([]);
  });

  it('although all of them were used', async () => {
    const { said } = await hopgauge('access', '--verbose');
    for (const door of ['vault', 'plot-2', 'quay-sw', 'loft-sw']) {
      expect(said).toMatch(new RegExp(`^${door}: .* open$`, 'm'));
    }
    expect(said).toMatch(/^gate: .* not open$/m);
    expect(said).toMatch(/^shed-sw: .* not open$/m);
  });
});
