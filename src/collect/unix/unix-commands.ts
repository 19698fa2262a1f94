/** One command that the script can run. */
export interface UnixCommand {
  /** As the script writes it; `PORT` and `ADDRESS` stand for what is put in. */
  readonly command: string;
  readonly on: 'all' | 'linux' | 'macos' | 'freebsd' | 'macos, freebsd';
  readonly reads: string;
}

/** Every command that the script can run, in its order; shell builtins that print or test aside. */
export const unixCommands: readonly UnixCommand[] = [
  { command: 'uname -s', on: 'all', reads: 'which system this is' },
  { command: 'uname -n', on: 'all', reads: 'its name for itself' },
  { command: 'uname -srm', on: 'all', reads: 'its version' },
  { command: 'cat /etc/os-release', on: 'linux', reads: 'version of the distribution' },
  { command: 'cat /proc/uptime', on: 'linux', reads: 'time since it started' },
  { command: 'ip -j -d link', on: 'linux', reads: 'ports: mtu, state, layers' },
  { command: 'ip -d -o link', on: 'linux', reads: 'the same, where ip prints no JSON' },
  { command: 'ip -o link', on: 'linux', reads: 'the same, where ip is older still' },
  { command: 'ip -j addr', on: 'linux', reads: 'addresses' },
  { command: 'ip -o addr', on: 'linux', reads: 'the same, where ip prints no JSON' },
  {
    command: "grep '' FILES of /sys/class/net/PORT",
    on: 'linux',
    reads: 'speed, duplex, carrier, counters, kind',
  },
  { command: 'ethtool PORT', on: 'linux', reads: 'negotiation, link modes of both sides' },
  { command: 'ethtool -i PORT', on: 'linux', reads: 'driver' },
  { command: 'ip -j route get ADDRESS', on: 'linux', reads: 'port towards a peer, no packet sent' },
  { command: 'ip route get ADDRESS', on: 'linux', reads: 'the same, where ip prints no JSON' },
  { command: 'ip rule', on: 'linux', reads: 'whether the routing table alone decides' },
  { command: 'ip -6 rule', on: 'linux', reads: 'the same for IPv6' },
  { command: 'ip -j route show', on: 'linux', reads: 'routing table' },
  { command: 'ip -j -6 route show', on: 'linux', reads: 'the same for IPv6' },
  {
    command: 'grep -E NETWORK-FILE-SYSTEMS /proc/mounts',
    on: 'linux',
    reads: 'mounted file servers',
  },
  {
    command: 'ss -tino state established',
    on: 'linux',
    reads: 'segment sizes that live sessions agreed on',
  },
  {
    command: 'ethtool -I -a PORT',
    on: 'linux',
    reads: 'whether pause frames are used, and how many came and went',
  },
  { command: 'ethtool -a PORT', on: 'linux', reads: 'the same, where ethtool counts none' },
  { command: 'ethtool --show-eee PORT', on: 'linux', reads: 'whether energy saving is in use' },
  { command: 'ethtool --show-fec PORT', on: 'linux', reads: 'error correction in use' },
  {
    command: 'ethtool -S PORT',
    on: 'linux',
    reads: "the driver's own counters, of which only some lines are kept",
  },
  { command: 'grep -E -i -m LINES COUNTERS', on: 'linux', reads: 'nothing: it keeps those lines' },
  { command: 'ethtool -m PORT', on: 'linux', reads: 'module: type, light, temperature' },
  {
    command: "grep -q 'Port: FIBRE'",
    on: 'linux',
    reads: 'nothing: it tells whether there is light to read',
  },
  {
    command: 'sudo -n -l ethtool -m PORT',
    on: 'linux',
    reads: 'whether the account may read modules; once, where it may not by itself; asks nothing',
  },
  {
    command: 'sudo -n ethtool -m PORT',
    on: 'linux',
    reads: 'the module, where the account may; asks for no password',
  },
  { command: 'head -n LINES', on: 'linux', reads: 'nothing: it bounds the list of sessions' },
  { command: 'sw_vers', on: 'macos', reads: 'version of the system' },
  { command: 'sysctl -n kern.boottime', on: 'macos, freebsd', reads: 'time of its start' },
  {
    command: 'date +%s',
    on: 'macos, freebsd',
    reads: 'its clock, to tell the time since its start',
  },
  { command: 'ifconfig -a -v -m', on: 'macos, freebsd', reads: 'ports: mtu, media, addresses' },
  { command: 'ifconfig -a', on: 'macos, freebsd', reads: 'the same, where it takes no -v -m' },
  {
    command: 'networksetup -listallhardwareports',
    on: 'macos',
    reads: 'which ports are hardware, and their names',
  },
  { command: 'netstat -ibn', on: 'macos', reads: 'counters' },
  { command: 'netstat -rn', on: 'macos', reads: 'routing table' },
  {
    command: 'route -n get ADDRESS',
    on: 'macos, freebsd',
    reads: 'port towards a peer, no packet sent',
  },
  { command: 'route -n get -inet6 ADDRESS', on: 'macos, freebsd', reads: 'the same for IPv6' },
  { command: 'mount', on: 'macos, freebsd', reads: 'mounted file servers' },
  { command: 'networksetup -getMTU PORT', on: 'macos', reads: 'MTU in use and as set' },
  { command: 'networksetup -listValidMTURange PORT', on: 'macos', reads: 'MTU that it can have' },
  {
    command: 'system_profiler -json -timeout SECONDS KIND',
    on: 'macos',
    reads: 'what joins an adapter to the computer',
  },
  { command: 'freebsd-version -u', on: 'freebsd', reads: 'version of the system' },
  { command: 'netstat -ibdnW', on: 'freebsd', reads: 'counters' },
  { command: 'netstat -rnW', on: 'freebsd', reads: 'routing table' },
  { command: 'ifconfig -l ether', on: 'freebsd', reads: 'names of the ports' },
  {
    command: 'sysctl -i dev.DRIVER.UNIT.%driver dev.DRIVER.UNIT.iflib.driver_version',
    on: 'freebsd',
    reads: 'driver and its version',
  },
  { command: 'pciconf -lc', on: 'freebsd', reads: 'bus of the adapters, where the account may' },
  { command: 'ifconfig -g bridge', on: 'freebsd', reads: 'names of the bridges' },
  { command: 'ifconfig BRIDGE addr', on: 'freebsd', reads: 'stations that a bridge has heard' },
];
