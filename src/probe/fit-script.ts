import { checkedAddress, checkedMarker } from '../collect/unix/literal.ts';
import { scriptStart } from '../collect/unix/script-start.ts';
import { payloadsOf, pingHeaderBytes, wantedBytes } from './fit-plan.ts';
import { type FitRequest, fitPacketsMax, triesPerSize } from './fit-types.ts';

/** Largest payload that macOS lets anyone but root send (`net.inet.raw.maxdgram`, 8192). */
export const macosPayloadBytesMax = 8164;
/** What `fitScript` generates says which sizes; no ping has more payload than this. */
const payloadBytesMax = 65_535;

// `try` leaves in g: passes, said (an error in words), silent, or spent (no packet is left). The
// wait of a second is the least that RFC 8899, section 5.1.1, allows before a probe is lost. A full
// queue is tried again as if the packet were lost, because it says nothing of the size.
const searching = `left=${fitPacketsMax}
try() {
  t=0; g=spent
  while [ "$t" -lt ${triesPerSize} ]; do
    [ "$left" -gt 0 ] || return 0
    t=$((t+1)); left=$((left-1))
    ask "$1" "$t"
    if [ "$r" = 0 ]; then
      g=passes
      return 0
    fi
    g=silent
    case $w in
      *'invalid option'*|*'unrecognized option'*|*'not found'*) g=said; left=0 ;;
      *'No buffer space'*) g=silent ;;
      ?*) g=said ;;
    esac
    [ "$g" = silent ] || return 0
  done
}
told() {
  m=\${w##*mtu?}; m=\${m# }; m=\${m%%[!0-9]*}
  case $m in
    ''|0*|??????*) m=0 ;;
  esac
  m=$((m-H))
  if [ "$m" -gt "$best" ] && [ "$m" -lt "$lost" ]; then
    try "$m"
    [ "$g" != passes ] || best=$m
  fi
}
narrow() {
  lo=0; hi=1
  for s in $N; do hi=$((hi+1)); done
  while [ $((hi-lo)) -gt 1 ]; do
    mid=$((lo+hi)); mid=$((mid/2)); i=0
    for s in $N; do
      i=$((i+1))
      [ "$i" -lt "$mid" ] || break
    done
    try "$s"
    if [ "$g" = passes ]; then lo=$mid; else hi=$mid; fi
    [ "$left" -gt 0 ] || return 0
  done
}
search() {
  best=0; lost=0; g=spent
  for s in $S; do
    [ "$s" -le "$X" ] || s=$X
    try "$s"
    if [ "$g" != passes ]; then
      lost=$s
      break
    fi
    best=$s
    [ "$s" -lt "$X" ] || break
  done
  [ "$lost" -gt 0 ] || return 0
  how=$g
  [ "$how" != said ] || told
  if [ "$best" = 0 ] && [ "$F" -lt "$lost" ]; then
    try "$F"
    [ "$g" != passes ] || best=$F
  fi
  if [ "$best" -gt 0 ] && [ "$how" = silent ] && [ "$lost" = "$P" ]; then narrow; fi
}
`;

const body = `${scriptStart}${searching}ask() {
  case $K in
    Linux) run "ping $1.$2" ping -n -M do -s "$1" -c 1 -W 1 "$A" ;;
    *)
      case $A in
        *:*) run "ping $1.$2" ping6 -n -D -s "$1" -c 1 "$A" ;;
        *) run "ping $1.$2" ping -n -D -s "$1" -c 1 -W 1000 "$A" ;;
      esac ;;
  esac
}
port() {
  f=
  for v in $(ip route get "$A" 2>/dev/null </dev/null); do
    if [ "$f" = dev ]; then
      run own cat "/sys/class/net/$v/mtu"
      return 0
    fi
    f=$v
  done
}
linux() {
  run route ip route get "$A"
  port
  search
}
bsd() {
  case $A in
    *:*) run route route -n get -inet6 "$A" ;;
    *) run route route -n get "$A" ;;
  esac
  search
}
macos() {
  u=$(id -u </dev/null 2>/dev/null)
  [ "$u" = 0 ] || X=${macosPayloadBytesMax}
  bsd
}
freebsd() {
  case $A in
    *:*) return 0 ;;
  esac
  bsd
}
X=${payloadBytesMax}
printf '\\n%s begin 1\\n' "$M"
run system uname -s
K=$(uname -s </dev/null 2>/dev/null)
case $K in
  Linux) linux ;;
  Darwin) macos ;;
  FreeBSD) freebsd ;;
esac
printf '\\n%s end\\n' "$M"
exit 0
`;

/**
 * The script that pings with "don't fragment" set, one packet a try: the rising sizes of the plan
 * until one does not come back in `triesPerSize` tries; then a size that the host or a router has
 * told; the floor where nothing came back; and the near sizes, halving, where the last rising size
 * was lost in silence. It sends `fitPacketsMax` packets at most, and none that is larger than one
 * that is known to be lost.
 *
 * @throws on a marker, address or size that may not stand in a script: a bug of the caller
 */
export function fitScript(parts: FitRequest & { readonly marker: string }): string {
  const marker = checkedMarker(parts.marker);
  const address = checkedAddress(parts.toAddress);
  const { risingBytes, nearBytes, floorBytes } = payloadsOf(parts.plan, address);
  const words = [
    ...[`M='${marker}'`, `A='${address}'`, `S='${risingBytes.join(' ')}'`],
    `P='${wantedBytes({ risingBytes, nearBytes, floorBytes })}'`,
    ...[`N='${nearBytes.join(' ')}'`, `F='${floorBytes}'`, `H='${pingHeaderBytes(address)}'`],
  ];
  return `${words.join('; ')}\n${body}`;
}
