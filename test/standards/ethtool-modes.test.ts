import { describe, expect, it } from 'vitest';
import {
  ethtoolModeName,
  parseEthtoolMode,
  parseEthtoolModes,
} from '../../src/ethernet/ethtool-mode.ts';
import type { Medium } from '../../src/ethernet/link-mode.ts';

type Row = readonly [string, string, number, 'full' | 'half', Medium];

const tp = 'twisted-pair';
const da = 'direct-attach';
const bp = 'backplane';

/** Every link mode that `ethtool` 6.1 has a name for, in its order; PHY and medium from memory. */
const release61: readonly Row[] = [
  ['10baseT/Half', '10BASE-T', 10, 'half', tp],
  ['10baseT/Full', '10BASE-T', 10, 'full', tp],
  ['100baseT/Half', '100BASE-TX', 100, 'half', tp],
  ['100baseT/Full', '100BASE-TX', 100, 'full', tp],
  ['1000baseT/Half', '1000BASE-T', 1000, 'half', tp],
  ['1000baseT/Full', '1000BASE-T', 1000, 'full', tp],
  ['10000baseT/Full', '10GBASE-T', 10_000, 'full', tp],
  ['2500baseX/Full', '2.5GBASE-X', 2500, 'full', 'unknown'],
  ['1000baseKX/Full', '1000BASE-KX', 1000, 'full', bp],
  ['10000baseKX4/Full', '10GBASE-KX4', 10_000, 'full', bp],
  ['10000baseKR/Full', '10GBASE-KR', 10_000, 'full', bp],
  ['20000baseKR2/Full', '20GBASE-KR2', 20_000, 'full', bp],
  ['40000baseKR4/Full', '40GBASE-KR4', 40_000, 'full', bp],
  ['40000baseCR4/Full', '40GBASE-CR4', 40_000, 'full', da],
  ['40000baseSR4/Full', '40GBASE-SR4', 40_000, 'full', 'fibre'],
  ['40000baseLR4/Full', '40GBASE-LR4', 40_000, 'full', 'fibre'],
  ['56000baseKR4/Full', '56GBASE-KR4', 56_000, 'full', bp],
  ['56000baseCR4/Full', '56GBASE-CR4', 56_000, 'full', da],
  ['56000baseSR4/Full', '56GBASE-SR4', 56_000, 'full', 'fibre'],
  ['56000baseLR4/Full', '56GBASE-LR4', 56_000, 'full', 'fibre'],
  ['25000baseCR/Full', '25GBASE-CR', 25_000, 'full', da],
  ['25000baseKR/Full', '25GBASE-KR', 25_000, 'full', bp],
  ['25000baseSR/Full', '25GBASE-SR', 25_000, 'full', 'fibre'],
  ['50000baseCR2/Full', '50GBASE-CR2', 50_000, 'full', da],
  ['50000baseKR2/Full', '50GBASE-KR2', 50_000, 'full', bp],
  ['100000baseKR4/Full', '100GBASE-KR4', 100_000, 'full', bp],
  ['100000baseSR4/Full', '100GBASE-SR4', 100_000, 'full', 'fibre'],
  ['100000baseCR4/Full', '100GBASE-CR4', 100_000, 'full', da],
  ['100000baseLR4_ER4/Full', '100GBASE-LR4/ER4', 100_000, 'full', 'fibre'],
  ['50000baseSR2/Full', '50GBASE-SR2', 50_000, 'full', 'fibre'],
  ['1000baseX/Full', '1000BASE-X', 1000, 'full', 'unknown'],
  ['10000baseCR/Full', '10GBASE-CR', 10_000, 'full', da],
  ['10000baseSR/Full', '10GBASE-SR', 10_000, 'full', 'fibre'],
  ['10000baseLR/Full', '10GBASE-LR', 10_000, 'full', 'fibre'],
  ['10000baseLRM/Full', '10GBASE-LRM', 10_000, 'full', 'fibre'],
  ['10000baseER/Full', '10GBASE-ER', 10_000, 'full', 'fibre'],
  ['2500baseT/Full', '2.5GBASE-T', 2500, 'full', tp],
  ['5000baseT/Full', '5GBASE-T', 5000, 'full', tp],
  ['50000baseKR/Full', '50GBASE-KR', 50_000, 'full', bp],
  ['50000baseSR/Full', '50GBASE-SR', 50_000, 'full', 'fibre'],
  ['50000baseCR/Full', '50GBASE-CR', 50_000, 'full', da],
  ['50000baseLR_ER_FR/Full', '50GBASE-LR/ER/FR', 50_000, 'full', 'fibre'],
  ['50000baseDR/Full', '50GBASE-DR', 50_000, 'full', 'fibre'],
  ['100000baseKR2/Full', '100GBASE-KR2', 100_000, 'full', bp],
  ['100000baseSR2/Full', '100GBASE-SR2', 100_000, 'full', 'fibre'],
  ['100000baseCR2/Full', '100GBASE-CR2', 100_000, 'full', da],
  ['100000baseLR2_ER2_FR2/Full', '100GBASE-LR2/ER2/FR2', 100_000, 'full', 'fibre'],
  ['100000baseDR2/Full', '100GBASE-DR2', 100_000, 'full', 'fibre'],
  ['200000baseKR4/Full', '200GBASE-KR4', 200_000, 'full', bp],
  ['200000baseSR4/Full', '200GBASE-SR4', 200_000, 'full', 'fibre'],
  ['200000baseLR4_ER4_FR4/Full', '200GBASE-LR4/ER4/FR4', 200_000, 'full', 'fibre'],
  ['200000baseDR4/Full', '200GBASE-DR4', 200_000, 'full', 'fibre'],
  ['200000baseCR4/Full', '200GBASE-CR4', 200_000, 'full', da],
  ['100baseT1/Full', '100BASE-T1', 100, 'full', 'unknown'],
  ['1000baseT1/Full', '1000BASE-T1', 1000, 'full', 'unknown'],
  ['400000baseKR8/Full', '400GBASE-KR8', 400_000, 'full', bp],
  ['400000baseSR8/Full', '400GBASE-SR8', 400_000, 'full', 'fibre'],
  ['400000baseLR8_ER8_FR8/Full', '400GBASE-LR8/ER8/FR8', 400_000, 'full', 'fibre'],
  ['400000baseDR8/Full', '400GBASE-DR8', 400_000, 'full', 'fibre'],
  ['400000baseCR8/Full', '400GBASE-CR8', 400_000, 'full', da],
  ['100000baseKR/Full', '100GBASE-KR', 100_000, 'full', bp],
  ['100000baseSR/Full', '100GBASE-SR', 100_000, 'full', 'fibre'],
  ['100000baseLR_ER_FR/Full', '100GBASE-LR/ER/FR', 100_000, 'full', 'fibre'],
  ['100000baseDR/Full', '100GBASE-DR', 100_000, 'full', 'fibre'],
  ['100000baseCR/Full', '100GBASE-CR', 100_000, 'full', da],
  ['200000baseKR2/Full', '200GBASE-KR2', 200_000, 'full', bp],
  ['200000baseSR2/Full', '200GBASE-SR2', 200_000, 'full', 'fibre'],
  ['200000baseLR2_ER2_FR2/Full', '200GBASE-LR2/ER2/FR2', 200_000, 'full', 'fibre'],
  ['200000baseDR2/Full', '200GBASE-DR2', 200_000, 'full', 'fibre'],
  ['200000baseCR2/Full', '200GBASE-CR2', 200_000, 'full', da],
  ['400000baseKR4/Full', '400GBASE-KR4', 400_000, 'full', bp],
  ['400000baseSR4/Full', '400GBASE-SR4', 400_000, 'full', 'fibre'],
  ['400000baseLR4_ER4_FR4/Full', '400GBASE-LR4/ER4/FR4', 400_000, 'full', 'fibre'],
  ['400000baseDR4/Full', '400GBASE-DR4', 400_000, 'full', 'fibre'],
  ['400000baseCR4/Full', '400GBASE-CR4', 400_000, 'full', da],
  ['100baseFX/Half', '100BASE-FX', 100, 'half', 'fibre'],
  ['100baseFX/Full', '100BASE-FX', 100, 'full', 'fibre'],
  ['10baseT1L/Full', '10BASE-T1L', 10, 'full', 'unknown'],
];

/** Some that later kernels name (net/ethtool/common.c). */
const later: readonly Row[] = [
  ['800000baseCR8/Full', '800GBASE-CR8', 800_000, 'full', da],
  ['800000baseKR8/Full', '800GBASE-KR8', 800_000, 'full', bp],
  ['800000baseDR8/Full', '800GBASE-DR8', 800_000, 'full', 'fibre'],
  ['800000baseDR8_2/Full', '800GBASE-DR8-2', 800_000, 'full', 'fibre'],
  ['800000baseSR8/Full', '800GBASE-SR8', 800_000, 'full', 'fibre'],
  ['800000baseVR8/Full', '800GBASE-VR8', 800_000, 'full', 'fibre'],
  ['10baseT1S/Full', '10BASE-T1S', 10, 'full', 'unknown'],
  ['10baseT1S/Half', '10BASE-T1S', 10, 'half', 'unknown'],
  ['1600000baseCR8/Full', '1.6TBASE-CR8', 1_600_000, 'full', da],
  ['1600000baseDR8_2/Full', '1.6TBASE-DR8-2', 1_600_000, 'full', 'fibre'],
  ['25000baseLR/Full', '25GBASE-LR', 25_000, 'full', 'fibre'],
];

describe('link modes as ethtool names them', () => {
  it.each([...release61, ...later])('%s is %s', (name, phy, speedMbps, duplex, medium) => {
    const mode = { speedMbps, duplex, medium, phy };
    expect(parseEthtoolMode(name)).toStrictEqual(mode);
    expect(ethtoolModeName(mode)).toBe(name);
  });

  it('are all of ethtool 6.1 but one that has no PHY of IEEE 802.3', () => {
    const read = parseEthtoolModes([...release61.map(([name]) => name), '20000baseMLD2/Full']);
    expect(read.modes).toHaveLength(release61.length);
    expect(read.aside).toEqual(['20000baseMLD2/Full']);
    expect(read.silentMbps).toEqual([]);
  });
});
