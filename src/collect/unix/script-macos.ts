import { bondsMax, hardwarePortsMax, profileSecondsMax } from './script-limits.ts';

/** `macos`: what is asked of a macOS host; after `bsdScript`. */
export const macosScript = `macos_ports() {
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
`;
