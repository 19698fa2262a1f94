import { unixScriptBody } from '../collect/unix/script-text.ts';

/**
 * The script for a forced command of sshd: it takes the marker and the addresses to ask routes
 * for from the first line of its input, checks both, ignores all else that it is sent, and runs
 * its own copy of the reading. An account with it can do nothing but read.
 */
export function forcedScript(version: string): string {
  return `#!/bin/sh
# hopgauge ${version}: reads ports, routes and live sessions of this machine; changes nothing.
# Save it as /usr/local/libexec/hopgauge-read, owned by root, mode 0755, and give the account in
# ~/.ssh/authorized_keys one line:
#   restrict,command="/usr/local/libexec/hopgauge-read" ssh-ed25519 AAAA... auditor
# Print it anew after every update of hopgauge.
IFS= read -r line || exit 0
case $line in
'echo door-'*)
  line=\${line#echo door-}
  case $line in ''|*[!0-9a-f]*) exit 0 ;; esac
  echo "door-$line"
  exit 0 ;;
"M='"*"'; P='"*"'") ;;
*) echo 'this account only answers hopgauge'; exit 0 ;;
esac
M=\${line#M=\\'}; M=\${M%%\\'*}
P=\${line#*P=\\'}; P=\${P%\\'}
case $M in hopgauge-*) ;; *) exit 0 ;; esac
case $M in *[!a-z0-9-]*) exit 0 ;; esac
case $P in *[!0-9A-Fa-f.:\\ ]*) exit 0 ;; esac
${unixScriptBody}`;
}
