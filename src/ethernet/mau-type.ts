import type { Duplex, LineReading } from './link-mode.ts';
import { parsePhy } from './phy.ts';

type Row = readonly [phy: string, duplex?: Duplex];

// IANA-MAU-MIB dot3MauType: 1 to 104 primary, 105 and up from a secondary source. The media and
// the duplex of 100BASE-T4 (half only) are from memory.
const types: Readonly<Record<number, Row>> = {
  5: ['10BASE-T'],
  10: ['10BASE-T', 'half'],
  11: ['10BASE-T', 'full'],
  14: ['100BASE-T4', 'half'],
  15: ['100BASE-TX', 'half'],
  16: ['100BASE-TX', 'full'],
  17: ['100BASE-FX', 'half'],
  18: ['100BASE-FX', 'full'],
  19: ['100BASE-T2', 'half'],
  20: ['100BASE-T2', 'full'],
  21: ['1000BASE-X', 'half'],
  22: ['1000BASE-X', 'full'],
  23: ['1000BASE-LX', 'half'],
  24: ['1000BASE-LX', 'full'],
  25: ['1000BASE-SX', 'half'],
  26: ['1000BASE-SX', 'full'],
  27: ['1000BASE-CX', 'half'],
  28: ['1000BASE-CX', 'full'],
  29: ['1000BASE-T', 'half'],
  30: ['1000BASE-T', 'full'],
  31: ['10GBASE-X', 'full'],
  32: ['10GBASE-LX4', 'full'],
  33: ['10GBASE-R', 'full'],
  34: ['10GBASE-ER', 'full'],
  35: ['10GBASE-LR', 'full'],
  36: ['10GBASE-SR', 'full'],
  37: ['10GBASE-W', 'full'],
  38: ['10GBASE-EW', 'full'],
  39: ['10GBASE-LW', 'full'],
  40: ['10GBASE-SW', 'full'],
  41: ['10GBASE-CX4', 'full'],
  46: ['100BASE-LX10', 'full'],
  49: ['1000BASE-LX10', 'full'],
  54: ['10GBASE-T', 'full'],
  55: ['10GBASE-LRM', 'full'],
  56: ['1000BASE-KX', 'full'],
  57: ['10GBASE-KX4', 'full'],
  58: ['10GBASE-KR', 'full'],
  70: ['40GBASE-KR4', 'full'],
  71: ['40GBASE-CR4', 'full'],
  72: ['40GBASE-SR4', 'full'],
  73: ['40GBASE-FR', 'full'],
  74: ['40GBASE-LR4', 'full'],
  75: ['100GBASE-CR10', 'full'],
  76: ['100GBASE-SR10', 'full'],
  77: ['100GBASE-LR4', 'full'],
  78: ['100GBASE-ER4', 'full'],
  88: ['25GBASE-CR', 'full'],
  89: ['25GBASE-CR-S', 'full'],
  90: ['25GBASE-KR', 'full'],
  91: ['25GBASE-KR-S', 'full'],
  92: ['25GBASE-R', 'full'],
  93: ['25GBASE-SR', 'full'],
  94: ['25GBASE-T', 'full'],
  95: ['40GBASE-ER4', 'full'],
  96: ['40GBASE-R', 'full'],
  97: ['40GBASE-T', 'full'],
  98: ['100GBASE-CR4', 'full'],
  99: ['100GBASE-KR4', 'full'],
  100: ['100GBASE-KP4', 'full'],
  101: ['100GBASE-R', 'full'],
  102: ['100GBASE-SR4', 'full'],
  103: ['2.5GBASE-T', 'full'],
  104: ['5GBASE-T', 'full'],
  109: ['2.5GBASE-KX', 'full'],
  110: ['2.5GBASE-X', 'full'],
  111: ['5GBASE-KR', 'full'],
  114: ['25GBASE-LR', 'full'],
  115: ['25GBASE-ER', 'full'],
  145: ['100GBASE-FR1', 'full'],
  146: ['100GBASE-LR1', 'full'],
};

/**
 * The mode that dot3MauType `number` names: the last arc of ifMauType under 1.3.6.1.2.1.26.4, or
 * the operational MAU type of LLDP. Its duplex is absent for 5, 10BASE-T of unknown duplex.
 * Undefined for 0 (not known) and for types that are not twisted pair, fibre, direct attach or
 * backplane Ethernet of this table.
 */
export function mauType(number: number): LineReading | undefined {
  const [phy = '', duplex] = types[number] ?? [];
  const found = parsePhy(phy);
  if (found === undefined) return undefined;
  const { speedMbps, medium } = found;
  return { speedMbps, medium, phy, ...(duplex === undefined ? {} : { duplex }) };
}
