import { checkedMarker } from '../collect/unix/literal.ts';

/** Line after which a program is whole; what ends before it is not run. */
export const programEnd = '#run';

const needsOfPerl =
  '-MSocket=inet_pton,pack_sockaddr_in6 -MTime::HiRes=clock_gettime,CLOCK_MONOTONIC';

// Programs come by standard input: nothing is written, and a list of processes shows no more than
// this. Python is not even looked for on macOS, where its name opens a dialog.
const body = String.raw`LC_ALL=C; export LC_ALL
PATH=${'$'}{PATH:-/usr/bin:/bin}:/usr/sbin:/sbin:/usr/local/sbin:/usr/local/bin; export PATH
begin() {
  printf '\n%s begin 1\n' "$M"
  S=$(uname -s </dev/null 2>/dev/null)
  printf '%s system %s\n' "$M" "$S"
  if perl ${needsOfPerl} -MFcntl -MErrno -e 'clock_gettime(CLOCK_MONOTONIC)' </dev/null >/dev/null 2>&1; then
    printf '%s with perl\n' "$M"
    exec perl -e '# hopgauge transfer
$_ = ""; while (sysread(STDIN, $_, 65536, length)) { last if /\n#run\n\z/ }
exit 5 unless /\n#run\n\z/; eval; print STDERR $@ if $@'
  fi
  if [ "$S" != Darwin ] && python3 -I -c 'import socket, select, struct, time' </dev/null >/dev/null 2>&1; then
    printf '%s with python3\n' "$M"
    exec python3 -I -c '# hopgauge transfer
import os
t = b""
while not t.endswith(b"\n#run\n"):
    b = os.read(0, 65536)
    if not b: os._exit(5)
    t += b
exec(t.decode())'
  fi
  N=
  if command -v nc >/dev/null 2>&1; then N=nc; fi
  if [ -z "$N" ] && busybox nc --help </dev/null 2>&1 | grep -q BusyBox; then N='busybox nc'; fi
  [ -n "$N" ] || { printf '%s with nothing\n%s end\n' "$M" "$M"; exit 0; }
  H=$($N -h </dev/null 2>&1)
  case $H in
    *BusyBox*'-s ADDR'*) K=busybox ;;
    *BusyBox*) K=smallest ;;
    *'[v1.10'*) K=old ;;
    *) K=bsd ;;
  esac
  printf '%s with nc\n' "$M"
}
begin
`;

/**
 * The script that says what a host has for a transfer and then waits: for a program of `perl` or
 * `python3`, or for a script that uses `nc`.
 *
 * @throws on a marker that may not stand in a script: a bug of the caller
 */
export function starterScript(marker: string): string {
  return `M='${checkedMarker(marker)}'\n${body}`;
}

/** Every command that a transfer can run on a host. */
export const transferCommands = [
  { command: 'uname -s', on: 'all', reads: 'which system this is' },
  {
    command: 'perl -e PROGRAM',
    on: 'all',
    reads: 'one end of the transfer, where it has the modules that come with it',
  },
  {
    command: 'python3 -I -c PROGRAM',
    on: 'linux, freebsd',
    reads: 'one end of the transfer, where there is no perl; never on macOS',
  },
  {
    command: 'nc -l ADDRESS PORT, busybox nc',
    on: 'linux, freebsd',
    reads: 'the receiving end, where there is neither',
  },
  { command: 'nc -N ADDRESS PORT, busybox nc', on: 'all', reads: 'the sending end, likewise' },
  { command: 'dd bs=65536', on: 'all', reads: 'with nc: makes and counts the bytes' },
  {
    command: 'ss -Htin dst ADDRESS dport = :PORT',
    on: 'linux',
    reads: 'with nc: what the kernel counts of the connection',
  },
  {
    command: 'cat, grep, kill, sed, sleep',
    on: 'all',
    reads: 'with nc: end it with its connection to the auditor, and bound it in time',
  },
] as const;
