import { stationsMax } from './forwarding.ts';
import { linePortsMax } from './script-limits.ts';

/** `freebsd`: what is asked of a FreeBSD host; after `bsdScript`. */
export const freebsdScript = `freebsd_drivers() {
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
`;
