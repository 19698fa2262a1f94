/** Every command that the fit's script can run. Each ping sends one packet. */
export const fitCommands = [
  { command: 'uname -s', on: 'all', reads: 'which system this is' },
  {
    command: 'ip route get ADDRESS',
    on: 'linux',
    reads: 'the port it leaves by, an MTU of the route, a path MTU that was learnt',
  },
  { command: 'cat /sys/class/net/PORT/mtu', on: 'linux', reads: 'the MTU of that port' },
  {
    command: 'ping -n -M do -s BYTES -c 1 -W 1 ADDRESS',
    on: 'linux',
    reads: 'whether this size passes; sends one packet',
  },
  { command: 'id -u', on: 'macos', reads: 'whether the limit for a ping of macOS applies' },
  {
    command: 'route -n get -inet6 ADDRESS',
    on: 'macos, freebsd',
    reads: 'the port it leaves by and the MTU of the route; `-inet6` for IPv6 only',
  },
  {
    command: 'ping -n -D -s BYTES -c 1 -W 1000 ADDRESS',
    on: 'macos, freebsd',
    reads: 'whether this size passes; sends one packet',
  },
  {
    command: 'ping6 -n -D -s BYTES -c 1 ADDRESS',
    on: 'macos',
    reads: 'the same for IPv6',
  },
] as const;
