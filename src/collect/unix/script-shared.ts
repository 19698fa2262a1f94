import { mountRoutesMax } from './script-limits.ts';

/** What the parts for the systems have in common: words that are let into a command, and marks. */
export const sharedScript = `rest() {
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
`;

/** `bsd_route ADDRESS` and `bsd_mounts`, for macOS and FreeBSD alike. */
export const bsdScript = `bsd_route() {
  case $1 in *:*) run "route $1" route -n get -inet6 "$1" ;; *) run "route $1" route -n get "$1" ;; esac
}
bsd_mounts() {
  mount </dev/null 2>/dev/null | while read -r d z; do
    case $d in //*) s=\${d#//}; s=\${s%%/*}; s=\${s##*@} ;; *:/*) s=\${d%%:/*} ;; *) continue ;; esac
    s=\${s#\\[}; s=\${s%\\]}
    numeric "$s" && unseen "$s" && bsd_route "$s"
  done
}
`;
