import { stationsMax } from './forwarding.ts';
import { scriptStart } from './script-start.ts';

/** Interfaces that are looked at one by one: first those with a device, then the others. */
export const devicePortsMax = 128;
/** Interfaces without a device that are looked at one by one. */
export const otherPortsMax = 384;
/** Wired ports with a device whose pause, energy saving, counters and module are asked for. */
export const linePortsMax = 64;
/** Bridges between an adapter and its processor that are looked at. */
export const busBridgesMax = 8;
/** Lines that are taken of one driver's own counters. */
export const counterLinesMax = 200;
/** Mounted file servers that routes are asked for. */
export const mountRoutesMax = 16;
/** Hardware ports that macOS is asked about one by one. */
export const hardwarePortsMax = 32;
/** Aggregates that are looked at one by one. */
export const bondsMax = 32;
/** Lines of live sessions that are taken. */
export const sessionLinesMax = 4000;
/** Seconds that macOS may take to report its hardware; what takes longer is left out. */
export const profileSecondsMax = 5;

/**
 * The part of the script that never changes. It only reads: no redirection but between its own
 * descriptors and from /dev/null, /proc, and every command in it is in `unixCommands`. Each
 * command's output stands between lines that begin with the marker; a command that fails or is
 * missing costs its own section. What may take long comes last, after the mark `rest`: where the
 * time ends there, all before it is kept. The script itself always ends with status 0, because a
 * transport has 255 for failures of its own.
 */
export const unixScriptBody = `${scriptStart}rest() {
  printf '\\n%s rest\\n' "$M"
}
plain() {
  case $1 in -*|.*|''|*[!A-Za-z0-9_.:@-]*) return 1 ;; esac
}
numeric() {
  case $1 in ''|*[!0-9A-Fa-f.:]*) return 1 ;; *[.:]*) return 0 ;; esac
  return 1
}
unseen() {
  case " $P " in *" $1 "*) return 1 ;; esac
  [ "$k" -lt ${mountRoutesMax} ] || return 1
  k=$((k+1)); P="$P $1"
}
sysfs() {
  cd "/sys/class/net/$1" || return 1
  [ -e device ] && printf '%s\\n' '@device'
  [ -e wireless ] || [ -e phy80211 ] && printf '%s\\n' '@wireless'
  [ -e bonding ] && printf '%s\\n' '@bond'
  [ -e bridge ] && printf '%s\\n' '@bridge'
  for f in lower_* brif/*; do
    [ -e "$f" ] && printf '@lower %s\\n' "$f"
  done
  (cd -P device/driver 2>/dev/null && d=$(pwd -P) && printf '@driver %s\\n' "\${d##*/}")
  set -- statistics/rx_bytes statistics/tx_bytes statistics/rx_packets statistics/tx_packets
  set -- "$@" statistics/rx_errors statistics/tx_errors statistics/rx_dropped
  set -- "$@" statistics/tx_dropped statistics/rx_crc_errors statistics/rx_frame_errors
  set -- "$@" statistics/rx_length_errors carrier_changes bonding/slaves
  [ -e device/removable ] && set -- "$@" device/removable
  b=device; k=0
  while [ "$k" -lt ${busBridgesMax} ] && [ -e "$b/current_link_speed" ]; do
    set -- "$@" "$b/current_link_speed" "$b/current_link_width" "$b/max_link_speed" "$b/max_link_width"
    b=$b/..; k=$((k+1))
  done
  for b in device device/..; do
    [ -e "$b/bDeviceClass" ] && [ -e "$b/speed" ] && set -- "$@" "$b/speed"
  done
  for b in bonding_slave/ad_* bonding_slave/perm_hwaddr bonding/mode brport/state bridge/vlan_filtering; do
    [ -e "$b" ] && set -- "$@" "$b"
  done
  set -- "$@" ifalias
  grep '' uevent mtu speed duplex operstate carrier flags address addr_assign_type type ifindex iflink "$@"
}
sessions() {
  ss -tino state established | head -n ${sessionLinesMax}
}
ports() {
  for p in /sys/class/net/*; do
    [ -d "$p" ] || continue
    i=\${p##*/}
    plain "$i" || continue
    if [ "$1" = device ]; then [ -e "$p/device" ] || continue; fi
    if [ "$1" = other ]; then [ ! -e "$p/device" ] || continue; fi
    c=$((c+1))
    [ "$c" -le "$2" ] || break
    [ -e "$p/bridge" ] && h=yes
    run "sysfs $i" sysfs "$i"
    [ "$1" = device ] || continue
    [ -e "$p/wireless" ] || [ -e "$p/phy80211" ] && continue
    run "ethtool $i" ethtool "$i"
    run "ethtool-driver $i" ethtool -i "$i"
  done
}
counters() {
  ethtool -S "$1" | grep -E -i -m ${counterLinesMax} 'late_?col|symbol|pause|flow_control|xon|xoff|link_down'
}
line() {
  run "ethtool-pause $1" ethtool -I -a "$1"
  [ "$r" = 0 ] || run "ethtool-pause $1" ethtool -a "$1"
  run "ethtool-eee $1" ethtool --show-eee "$1"
  run "ethtool-fec $1" ethtool --show-fec "$1"
  run "ethtool-counters $1" counters "$1"
}
module() {
  run "ethtool-module $1" ethtool -m "$1"
  case $w in *'not permitted'*) ;; *) return 0 ;; esac
  [ "$u" = no ] && return 0
  ethtool "$1" </dev/null 2>/dev/null | grep -q 'Port: FIBRE' || return 0
  if [ "$u" = ask ]; then
    u=no
    run module-right sudo -n -l ethtool -m "$1"
    [ "$r" = 0 ] && u=yes
  fi
  [ "$u" = yes ] && run "ethtool-module $1" sudo -n ethtool -m "$1"
}
lines() {
  for p in /sys/class/net/*; do
    [ -e "$p/device" ] || continue
    [ -e "$p/wireless" ] || [ -e "$p/phy80211" ] && continue
    i=\${p##*/}
    plain "$i" || continue
    c=$((c+1))
    [ "$c" -le ${linePortsMax} ] || break
    if [ "$1" = module ]; then module "$i"; else line "$i"; fi
  done
}
fdb() {
  bridge fdb show | head -n ${stationsMax}
}
bonds() {
  for p in /proc/net/bonding/*; do
    i=\${p##*/}
    [ -e "$p" ] && plain "$i" || continue
    c=$((c+1))
    [ "$c" -le ${bondsMax} ] || break
    run "bonding $i" cat "$p"
  done
}
kernel_routes() {
  run route-n route -n
  [ "$r" = 0 ] || run proc-route cat /proc/net/route
  run proc-route-6 cat /proc/net/ipv6_route
}
linux_route() {
  [ "$x" = 0 ] || return 0
  if [ "$j" = 0 ]; then run "route $1" ip -j route get "$1"; else run "route $1" ip route get "$1"; fi
}
linux() {
  run os-release cat /etc/os-release
  run uptime cat /proc/uptime
  run ip-link ip -j -d link; j=$r
  [ "$j" = 0 ] || run ip-link ip -d -o link
  [ "$r" = 0 ] || run ip-link ip -o link
  x=$r
  if [ "$j" = 0 ]; then run ip-addr ip -j addr; else run ip-addr ip -o addr; fi
  [ "$x" = 0 ] || run ifconfig ifconfig -a
  [ -e /proc/net/vlan/config ] && run vlans cat /proc/net/vlan/config
  c=0; bonds
  h=no
  c=0; ports device ${devicePortsMax}
  c=0; ports other ${otherPortsMax}
  for a in $P; do linux_route "$a"; done
  run rules ip rule
  run rules-6 ip -6 rule
  if [ "$j" = 0 ]; then
    run route-table ip -j route show
    run route-table-6 ip -j -6 route show
  else
    run route-table ip route show
    run route-table-6 ip -6 route show
  fi
  [ "$x" = 0 ] || kernel_routes
  run mounts grep -E '^[^ ]+ [^ ]+ (nfs4?|cifs|smb3|smbfs) ' /proc/mounts
  k=0
  while read -r d b t o z; do
    case $t in nfs|nfs4|cifs|smb3|smbfs) ;; *) continue ;; esac
    s=,$o,
    case $s in *,addr=*) ;; *) continue ;; esac
    s=\${s##*,addr=}; s=\${s%%,*}
    numeric "$s" && unseen "$s" && linux_route "$s"
  done </proc/mounts
  run sessions sessions
  rest
  if [ "$h" = yes ]; then
    run bridge-vlans bridge -j vlan show
    run bridge-stations fdb
  fi
  c=0; lines line
  u=ask; c=0; lines module
}
bsd_route() {
  case $1 in *:*) run "route $1" route -n get -inet6 "$1" ;; *) run "route $1" route -n get "$1" ;; esac
}
macos_ports() {
  networksetup -listallhardwareports </dev/null 2>/dev/null | while read -r a b z; do
    [ "$a" = Device: ] && plain "$b" || continue
    c=$((c+1))
    [ "$c" -le ${hardwarePortsMax} ] || break
    run "mtu $b" networksetup -getMTU "$b"
    run "mtu-range $b" networksetup -listValidMTURange "$b"
    run "media $b" networksetup -getMedia "$b"
  done
}
macos_bonds() {
  for b in $(ifconfig -l </dev/null 2>/dev/null); do
    case $b in bond*) plain "$b" || continue ;; *) continue ;; esac
    c=$((c+1))
    [ "$c" -le ${bondsMax} ] || break
    run "bond $b" ifconfig -b "$b"
  done
}
bsd_mounts() {
  mount </dev/null 2>/dev/null | while read -r d z; do
    case $d in //*) s=\${d#//}; s=\${s%%/*}; s=\${s##*@} ;; *:/*) s=\${d%%:/*} ;; *) continue ;; esac
    s=\${s#\\[}; s=\${s%\\]}
    numeric "$s" && unseen "$s" && bsd_route "$s"
  done
}
profile() {
  run "profile $1" system_profiler -json -timeout ${profileSecondsMax} "$1"
}
macos() {
  run sw-vers sw_vers
  run boottime sysctl -n kern.boottime
  run now date +%s
  run ifconfig ifconfig -a -v -m
  [ "$r" = 0 ] || run ifconfig ifconfig -a
  c=0; macos_bonds
  run hardware-ports networksetup -listallhardwareports
  run service-order networksetup -listnetworkserviceorder
  run netstat netstat -ibn
  run route-table netstat -rn
  for a in $P; do bsd_route "$a"; done
  run mounts mount
  c=0; macos_ports
  k=0; bsd_mounts
  rest
  profile SPEthernetDataType
  profile SPPCIDataType
  profile SPThunderboltDataType
}
freebsd_drivers() {
  for i in $(ifconfig -l ether </dev/null 2>/dev/null); do
    plain "$i" || continue
    d=\${i%%[0-9]*}; u=\${i#"$d"}
    case $u in ''|*[!0-9]*) continue ;; esac
    c=$((c+1))
    [ "$c" -le ${linePortsMax} ] || break
    run "driver $i" sysctl -i "dev.$d.$u.%driver" "dev.$d.$u.iflib.driver_version"
  done
}
stations() {
  ifconfig "$1" addr | head -n ${stationsMax}
}
freebsd() {
  run freebsd-version freebsd-version -u
  run boottime sysctl -n kern.boottime
  run now date +%s
  run ifconfig ifconfig -a -v -m
  [ "$r" = 0 ] || run ifconfig ifconfig -a
  run netstat netstat -ibdnW
  run route-table netstat -rnW
  for a in $P; do bsd_route "$a"; done
  run mounts mount
  k=0; bsd_mounts
  c=0; freebsd_drivers
  rest
  run pciconf pciconf -lc
  c=0
  for i in $(ifconfig -g bridge </dev/null 2>/dev/null); do
    plain "$i" || continue
    c=$((c+1))
    [ "$c" -le ${linePortsMax} ] || break
    run "stations $i" stations "$i"
  done
}
printf '\\n%s begin 1\\n' "$M"
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
