import { stationsMax } from './forwarding.ts';
import {
  bondsMax,
  busBridgesMax,
  counterLinesMax,
  devicePortsMax,
  linePortsMax,
  otherPortsMax,
  sessionLinesMax,
} from './script-limits.ts';

/** `linux`: what is asked of a Linux host. */
export const linuxScript = `sysfs() {
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
`;
