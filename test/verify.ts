import { type Prepared, prepareBrowser } from './browser/prepare.ts';
import { prepareLab } from './lab/prepare.ts';
import { sumOf } from './verify/counts.ts';
import { type Part, script, tests, together, tool, where } from './verify/parts.ts';

// The whole check: format, lint, types, build, every test, the demo, the pages in Debian's Chromium
// and the lab; Debian packages that are missing for them are installed. Its last line counts what
// really ran. A check that could not run is `skipped`; under CI that is a failure.

const notYet = (): Prepared => ({ ready: false, why: 'was not prepared' });
const machine = { lab: notYet(), browser: notYet() };
const packages: Part = {
  name: 'Debian packages',
  run: async (say) => {
    // One after the other: dpkg takes one at a time.
    machine.lab = await prepareLab();
    machine.browser = await prepareBrowser();
    const installed = Object.values(machine).flatMap((each) => (each.ready ? each.installed : []));
    say(`installed: ${installed.join(', ') || 'nothing'}\n`);
    return { passed: 0, failed: 0, skipped: 0 };
  },
};
const inLab = (part: Part) => where(() => machine.lab, part);

// What one core does beside another; tests of units compare with programs of the packages too.
const results = [
  ...(await together(
    packages,
    tool('format and lint', 'biome', 'ci', '--error-on-warnings', '.'),
    tool('types', 'tsc', '--noEmit'),
  )),
  ...(await together(script('build'))),
  ...(await together(tests('unit', 'unit-pure'))),
  ...(await together(
    tests('pack'),
    where(() => machine.browser, tests('browser')),
    script('demo'),
  )),
  ...(await together(inLab(tests('lab')))),
  // What measures comes when the others are through.
  ...(await together(inLab(tests('lab-alone')))),
];

const { passed, failed, skipped } = sumOf(results);
const skippedUnderCi = process.env['CI'] === 'true' && skipped > 0;
if (skippedUnderCi) console.log('\nunder CI nothing may be skipped');
process.exitCode = failed > 0 || skippedUnderCi ? 1 : 0;
console.log(`\n${passed} passed, ${failed} failed, ${skipped} skipped`);
