import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Lab, restartSnmpd } from './lab.ts';

/** dot1dBasePortIfIndex, dot1dStpPortState, dot1dTpFdbPort and dot1dTpFdbStatus (RFC 4188). */
const bridge = '.1.3.6.1.2.1.17';
const columns = ['1.4.1.2', '2.15.1.3', '4.3.1.2', '4.3.1.3'].map((each) => `${bridge}.${each}`);
const [baseIfIndex, stpState, fdbPort, fdbStatus] = columns;

/**
 * Answers from the kernel's own tables, with its own numbers of ports: the sub-agent serves the
 * stations without the ports behind which they are, and numbers ports in an order of its own. The
 * states of the kernel are 0 to 4: disabled, listening, learning, forwarding, blocking.
 */
const script = `#!/bin/sh
PATH=/usr/sbin:/usr/bin:/sbin:/bin
number() { echo $(($(cat "/sys/class/net/$1/brport/port_no"))); }
rows() {
  for link in /sys/class/net/br0/brif/*; do
    port=\${link##*/}
    echo "${baseIfIndex}.$(number "$port") integer $(cat "/sys/class/net/$port/ifindex")"
    set -- 1 3 4 5 2
    shift "$(cat "/sys/class/net/$port/brport/state")"
    echo "${stpState}.$(number "$port") integer $1"
  done
  bridge fdb show br br0 dynamic | while read -r mac _ port _; do
    index=
    for octet in $(echo "$mac" | tr : ' '); do index=$index.$((0x$octet)); done
    echo "${fdbPort}$index integer $(number "$port")"
    echo "${fdbStatus}$index integer 3"
  done
}
# Kept for a second: the agent runs this for every row, and a busy machine would be too slow.
kept() {
  [ -n "$(find /run/forwarding-rows -newermt '-1 second' 2>/dev/null)" ] || {
    rows >"/run/forwarding-rows.$$" && mv "/run/forwarding-rows.$$" /run/forwarding-rows
  }
  cat /run/forwarding-rows
}
case $1 in
  -g) kept | awk -v oid="$2" '$1 == oid { print $1; print $2; print $3; exit }' ;;
  -n) oid=$2; { kept; echo "$oid zz"; } | sort -V | awk -v oid="$oid" '
        seen { print $1; print $2; print $3; exit }
        $1 == oid && $2 == "zz" { seen = 1 }' ;;
esac
`;

/** Lets the agent of a switch serve its forwarding table whole; `more` are lines of its own. */
export async function serveForwardingTable(lab: Lab, node: string, more: readonly string[] = []) {
  const file = join(lab.directory, 'forwarding-table.sh');
  writeFileSync(file, script);
  chmodSync(file, 0o755);
  const lines = columns.map((column) => `pass ${column} ${file}`);
  await restartSnmpd(lab, node, { lines: [...lines, ...more] });
}
