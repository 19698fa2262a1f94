import { checkedMarker } from '../collect/unix/literal.ts';
import { scriptStart } from '../collect/unix/script-start.ts';
import { liveMsMax, livePortsMax, lookEveryMs } from './live-types.ts';

/** Every command that the live script can run. */
export const liveCommands = [
  { command: 'uname -s', on: 'all', reads: 'which system this is, once' },
  {
    command: 'kill -0 PROCESS',
    on: 'all',
    reads: 'whether its input is still open; sends no signal',
  },
  { command: 'sleep 1', on: 'all', reads: 'nothing: it waits between two looks' },
  { command: 'cat /proc/uptime', on: 'linux', reads: 'time since it started' },
  {
    command: "grep '' FILES of /sys/class/net/PORT",
    on: 'linux',
    reads: 'link, MTU, error counters, how often the link changed',
  },
  { command: 'ethtool PORT', on: 'linux', reads: 'speed, duplex, modes of the far side' },
  { command: 'ifconfig -v PORT', on: 'macos, freebsd', reads: 'link, medium, MTU' },
  { command: 'netstat -bn -I PORT', on: 'macos', reads: 'error counters' },
  { command: 'netstat -bdnW -I PORT', on: 'freebsd', reads: 'error counters' },
] as const;

/** Looks of one connection, at most: those of the longest run. */
const looksMax = Math.ceil(liveMsMax / lookEveryMs);

// All in functions, so that the shell has read every line before the watcher reads its input: once
// that ends, because hopgauge or the connection has, the watcher ends, and at the next turn the
// loop. A connection that dies unsaid ends too: each look is output that the host's kernel gives up
// on. `kill -0` sends nothing; it asks whether the process is there.
const body = `${scriptStart}sysfs() {
  cd "/sys/class/net/$1" || return 1
  [ -e device ] && printf '%s\\n' '@device'
  set -- statistics/rx_errors statistics/tx_errors statistics/rx_crc_errors
  grep '' mtu speed duplex operstate carrier carrier_changes flags "$@"
}
linux() {
  run uptime cat /proc/uptime
  for i in $I; do
    run "sysfs $i" sysfs "$i"
    run "ethtool $i" ethtool "$i"
  done
}
macos() {
  for i in $I; do
    run "ifconfig $i" ifconfig -v "$i"
    run "netstat $i" netstat -bn -I "$i"
  done
}
freebsd() {
  for i in $I; do
    run "ifconfig $i" ifconfig -v "$i"
    run "netstat $i" netstat -bdnW -I "$i"
  done
}
input() {
  while read -r z; do :; done
}
live() {
  exec 4<&0
  input <&4 >&- 2>&- &
  e=$!
  s=$(uname -s </dev/null 2>/dev/null)
  k=0
  while [ "$k" -lt "$N" ] && kill -0 "$e" 2>/dev/null; do
    k=$((k+1))
    printf '\\n%s begin 1\\n' "$M"
    run system printf '%s\\n' "$s"
    case $s in
      Linux) linux ;;
      Darwin) macos ;;
      FreeBSD) freebsd ;;
      *) N=0 ;;
    esac
    printf '\\n%s end\\n' "$M"
    sleep 1 </dev/null
  done
}
live; exit 0
`;

/** What a live script is made for. */
export interface LiveScriptParts {
  readonly marker: string;
  /** The node's own names of its ports; at most `livePortsMax`. */
  readonly ports: readonly string[];
  /** How many looks it takes before it ends by itself. */
  readonly looks: number;
}

/**
 * The script that looks at a few ports once a second, each look a framed answer of its own, until
 * its looks are done or its standard input ends.
 *
 * @throws on a marker, port or number that may not stand in a script: a bug of the caller
 */
export function liveScript({ marker, ports, looks }: LiveScriptParts): string {
  if (ports.length === 0 || ports.length > livePortsMax) {
    throw new Error(`a live script watches 1 to ${livePortsMax} ports`);
  }
  if (!ports.every(isPlainPort)) throw new Error('a port has no plain name');
  if (!Number.isInteger(looks) || looks < 1 || looks > looksMax) {
    throw new Error(`a live script takes 1 to ${looksMax} looks`);
  }
  const names = [...new Set(ports)].join(' ');
  return `M='${checkedMarker(marker)}'; N='${looks}'; I='${names}'\n${body}`;
}

/** A name of a port that cannot be taken for an option, a path or shell text. */
export function isPlainPort(name: string): boolean {
  return /^[A-Za-z0-9_][A-Za-z0-9_.:@-]{0,63}$/.test(name);
}
