import { factsScript } from './script/facts.ts';
import { findingsScript } from './script/findings.ts';
import { fragmentsScript } from './script/fragments.ts';
import { portsScript } from './script/ports.ts';
import { unpackScript } from './script/unpack.ts';

/**
 * The script of the page: one strict function, plain text that no build step touches, so that its
 * digest is the same from source and from a package. `test/report/page/page-script.test.ts` has the
 * compiler check its types.
 */
export const pageScript = [
  "'use strict';(() => {",
  unpackScript,
  factsScript,
  findingsScript,
  portsScript,
  fragmentsScript,
  '})();',
].join('\n');
