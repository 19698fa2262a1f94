import { makeProgram } from '../../src/cli/program.ts';
import { toolVersion } from '../../src/cli/tool-version.ts';
import { usageOf } from '../../src/cli/usage-of.ts';
import { manPage } from '../../src/usage/man-page.ts';
import { fakeRun } from '../cli/fake-io.ts';
import { changesOf } from './changes-of.ts';

/** Width of the help that the page is made from, so that it does not depend on a terminal. */
const columns = 80;

/** The man page of this version; its date is that of the version in the list of changes. */
export function shippedManPage(changes: string): string {
  const version = toolVersion();
  const release = changesOf(changes).find((each) => each.version === version);
  if (release === undefined) throw new Error(`CHANGELOG.md: says nothing of ${version}`);
  const usage = usageOf(makeProgram(fakeRun({ columns }).io, () => {}));
  const title = 'audit MTU, negotiated speed and duplex along Ethernet paths';
  return manPage(usage, { version, date: release.date, title });
}
