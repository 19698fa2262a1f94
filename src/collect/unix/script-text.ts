import { freebsdScript } from './script-freebsd.ts';
import { linuxScript } from './script-linux.ts';
import { macosScript } from './script-macos.ts';
import { bsdScript, sharedScript } from './script-shared.ts';
import { scriptStart } from './script-start.ts';

/**
 * The part of the script that never changes. It only reads: no redirection but between its own
 * descriptors and from /dev/null, /proc, and every command in it is in `unixCommands`. Each
 * command's output stands between lines that begin with the marker; a command that fails or is
 * missing costs its own section. What may take long comes last, after the mark `rest`: where the
 * time ends there, all before it is kept. The script itself always ends with status 0, because a
 * transport has 255 for failures of its own.
 */
export const unixScriptBody = `${scriptStart}${sharedScript}${linuxScript}${bsdScript}${macosScript}${freebsdScript}printf '\\n%s begin 1\\n' "$M"
run system uname -s
run name uname -n
run text uname -srm
case $(uname -s </dev/null 2>/dev/null) in
  Linux) linux ;;
  Darwin) macos ;;
  FreeBSD) freebsd ;;
esac
printf '\\n%s end\\n' "$M"
exit 0
`;
