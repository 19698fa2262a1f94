/**
 * How every script for a host begins: the language of its answers, where its commands are, and
 * `run NAME COMMAND...`, which prints what a command says between marks and leaves its status in r.
 */
export const scriptStart = `LC_ALL=C; export LC_ALL
PATH=\${PATH:-/usr/bin:/bin}:/usr/sbin:/sbin:/usr/local/sbin; export PATH
run() {
  n=$1; shift
  printf '\\n%s open %s\\n' "$M" "$n"
  { w=$("$@" </dev/null 2>&1 >&3 3>&-); r=$?; } 3>&1
  printf '\\n%s words\\n%.2000s\\n%s close %s\\n' "$M" "$w" "$M" "$r"
}
`;
