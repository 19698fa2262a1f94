/**
 * One end of a transfer by `nc` and `dd`, after a first line of literals and after the starter, which
 * left the name of nc in N and its kind in K. It only receives where it listens, and only sends
 * where it connects. The smallest build of BusyBox cannot bind to one address, and with others than those of
 * BSD the end of its own input would end the connection. All of it is one process group, which ends as one.
 */
export const ncProgram = String.raw`hear() {
  case $K in
    bsd) set -- "$A" "$P"; exec 4</dev/null ;;
    smallest) set -- -p "$P" ;;
    *) set -- -p "$P" -s "$A" ;;
  esac
  $N -l "$@" <&4 | {
    IFS= read -r t
    if [ "$t" = "$T" ]; then
      dd bs=65536 of=/dev/null 2>&1 | sed "s/^/$M dd /"
    else
      printf '%s failed nobody 1\n' "$M"
    fi
  } &
  n=$!
  sleep 1
  if kill -0 "$n" 2>/dev/null; then printf '%s port %s\n' "$M" "$P"; else printf '%s failed bind other\n' "$M"; fi
  wait "$n"
  printf '%s end\n' "$M"
  kill 0
}
begin() {
  exec 3<&0
  trap 'exit 0' TERM
  { cat <&3 >/dev/null; kill 0; } &
  { sleep "$L"; kill 0; } </dev/null &
  if [ "$R" = listen ]; then
    sleep "$L" | { exec 4<&0; hear; }
  else
    case $K in bsd) h=-N ;; old) h='-q 0' ;; *) h= ;; esac
    {
      printf '%s\n' "$T"
      dd if=/dev/zero bs=65536 count="$C" 2>/dev/null &
      d=$!
      { sleep "$D"; kill "$d"; } >/dev/null 2>&1 &
      wait "$d"
    } | $N $h "$B" "$P" >/dev/null 2>&1 &
    n=$!
    i=0
    while [ "$i" -lt "$D" ] && kill -0 "$n" 2>/dev/null; do
      sleep 1
      i=$((i + 1))
      [ "$S" = Linux ] && ss -Htin dst "$B" dport = ":$P" </dev/null 2>/dev/null | sed "s/^/$M ss /"
    done
    wait "$n" || printf '%s failed connect other\n' "$M"
    printf '%s sent-by-nc\n' "$M"
  fi
  printf '%s end\n' "$M"
  kill 0
}
begin
`;
