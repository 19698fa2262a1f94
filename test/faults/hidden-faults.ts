import type { HiddenFault } from './fault.ts';

/** What no reading of one night shows, and what would. */
export const hiddenFaults: readonly HiddenFault[] = [
  {
    key: 'driver-accepts-what-its-chip-cannot',
    why: 'the MTU in use is what the driver was told, not what the hardware passes',
    shownBy: 'a fit',
  },
  {
    key: 'driver-room-for-the-tag-for-certain',
    why: 'some drivers keep 4 bytes above the maximum that they name, so that it is only suspected',
    shownBy: 'a fit',
  },
  {
    key: 'icmp-of-a-router-dropped',
    why: 'that a router must answer is seen; whether a firewall drops the answer is not',
    shownBy: 'a fit',
  },
  {
    key: 'large-frames-while-all-ports-say-1500',
    why: 'an agent that says 1500 of all ports may say the truth',
    shownBy: 'a fit',
  },
  {
    key: 'ping-refused-by-its-own-socket',
    why: 'a limit of ICMP sockets on one system looks like a small path: a fault of the measurement',
    shownBy: 'a transfer',
  },
  {
    key: 'setting-lost-at-a-restart',
    why: 'the small MTU is found; that it was larger before the restart is not in one reading',
    shownBy: 'a second night',
  },
  {
    key: 'change-of-mtu-dropped-the-link',
    why: 'two changes of carrier and a new MTU are one event only against the night before',
    shownBy: 'a second night',
  },
  {
    key: 'counters-reset-between-two-nights',
    why: 'one reading has no difference to be negative',
    shownBy: 'a second night',
  },
  {
    key: 'energy-saving-is-the-reason',
    why: 'that it is in use on a link that flaps is seen; that it is why needs a day without it',
    shownBy: 'a second night',
  },
  {
    key: 'who-hands-out-the-mtu',
    why: 'that systems differ is seen; that a DHCP server is behind it is not',
    shownBy: 'a person looking',
  },
  {
    key: 'which-piece-of-the-run-is-broken',
    why: 'both ends see one pair fail; which cord, jack or panel it is shows only when swapped',
    shownBy: 'a person looking',
  },
];
