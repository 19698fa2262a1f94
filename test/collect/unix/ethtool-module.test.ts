import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseEthtoolModule } from '../../../src/collect/unix/ethtool-module.ts';
import { recorded } from './recorded/recorded.ts';

const row = (title: string, value: string) => `\t${title.padEnd(41)} : ${value}\n`;
const phys = (output: string) => parseEthtoolModule(output).phys.map(({ phy }) => phy);

describe('parseEthtoolModule', () => {
  it('reads type, light, its limits and the temperature of an SFP', () => {
    const { phys: _, ...rest } = parseEthtoolModule(recorded('ethtool-module-sfp.txt'));
    expect(rest).toEqual({
      text: '10G Ethernet: 10G Base-SR; Ethernet: 1000BASE-SX',
      rxPowerDbm: -12.3,
      rxPowerLowDbm: -11.1,
      rxPowerHighDbm: 0.5,
      txPowerDbm: -2.44,
      txPowerLowDbm: -7.3,
      txPowerHighDbm: 1,
      temperatureCelsius: 41.2,
    });
    expect(phys(recorded('ethtool-module-sfp.txt'))).toEqual(['10GBASE-SR', '1000BASE-SX']);
  });

  it('takes the weakest lane of a QSFP, and no light for the least that can be told', () => {
    const { phys: _, ...rest } = parseEthtoolModule(recorded('ethtool-module-qsfp.txt'));
    expect(rest).toEqual({
      text: '40G Ethernet: 40G Base-SR4',
      rxPowerDbm: -40,
      txPowerDbm: -2,
      temperatureCelsius: -3.5,
    });
  });

  // Types as ethtool 6.1 words them.
  it.each([
    ['10G Ethernet: 10G Base-LR', ['10GBASE-LR']],
    ['10G Ethernet: 10G Base-ER [SFF-8472 rev10.4 onwards]', ['10GBASE-ER']],
    ['10G Ethernet: 10G Base-LRM', ['10GBASE-LRM']],
    ['Ethernet: 1000BASE-T', ['1000BASE-T']],
    ['Ethernet: 100BASE-FX', ['100BASE-FX']],
    ['Ethernet: 100BASE-LX/LX10', []],
    ['Ethernet: BASE-BX10', []],
    ['Passive Cable', []],
    ['Extended: 10Gbase-T with SFI electrical interface', ['10GBASE-T']],
    ['Extended: 2.5GBASE-T', ['2.5GBASE-T']],
    ['Extended: 100G Base-SR4 or 25GBase-SR', ['100GBASE-SR4', '25GBASE-SR']],
    ['40G Ethernet: 40G Base-LR4', ['40GBASE-LR4']],
    ['Extended: 100G SWDM4', []],
  ])('%s names %j', (type, named) => {
    const output = row('Transceiver type', type);
    expect(phys(output)).toEqual(named);
    expect(parseEthtoolModule(output).text).toBe(type);
  });

  it('says what kind of module it is where no type is told', () => {
    expect(parseEthtoolModule(row('Identifier', '0x03 (SFP)'))).toEqual({ text: 'SFP', phys: [] });
  });

  const power = 'Receiver signal average optical power';

  it.each([
    ['a monitor full of ones', '6.5535 mW / 8.16 dBm'],
    ['no level', '0.5701 mW'],
    ['not a number', 'nan mW / nan dBm'],
    ['infinity', 'inf mW / inf dBm'],
    ['no unit', '0.5701 mW / -2.44'],
    ['an exponent', '0.57 mW / -1e9 dBm'],
  ])('takes no power from %s', (_, value) => {
    expect(parseEthtoolModule(row(power, value)).rxPowerDbm).toBeUndefined();
  });

  it('takes no power of lanes of which one cannot be read', () => {
    const lanes = ['0.5 mW / -3.01 dBm', 'unknown'].map((value, i) =>
      row(`Rcvr signal avg optical power(Channel ${i + 1})`, value),
    );
    expect(parseEthtoolModule(lanes.join('')).rxPowerDbm).toBeUndefined();
  });

  it('does not take the modulation amplitude for the average', () => {
    const output = row('Receiver signal OMA', '0.5 mW / -3.01 dBm');
    expect(parseEthtoolModule(output)).toEqual({ phys: [] });
  });

  it('reads nothing else, and little of a flood', () => {
    expect(parseEthtoolModule('')).toEqual({ phys: [] });
    const flood = row('Transceiver type', '10G Ethernet: 10G Base-SR').repeat(5000);
    expect(parseEthtoolModule(flood).phys).toHaveLength(8);
    const long = `\tA${'a'.repeat(4000)}:${' :'.repeat(40)}\n`;
    expect(parseEthtoolModule(long.repeat(200))).toEqual({ phys: [] });
  });
});

const program = '/usr/sbin/ethtool';

describe.runIf(existsSync(program))('the ethtool of this machine', () => {
  const text = existsSync(program) ? readFileSync(program, 'latin1') : '';

  it.each([
    'Identifier',
    'Transceiver type',
    'Laser output power',
    'Receiver signal average optical power',
    'Rcvr signal avg optical power',
    'Transmit avg optical power',
    'Laser rx power low warning threshold',
    'Laser rx power high warning threshold',
    'Laser output power low warning threshold',
    'Laser output power high warning threshold',
    'Module temperature',
    '%.4f mW / %.2f dBm',
    '%.2f degrees C / %.2f degrees F',
    'Active FEC encoding',
    'EEE status: ',
    'enabled - ',
    'RX negotiated',
    'rx_pause_frames',
    'advertised auto-negotiation: %s',
    'Direct Attach Copper',
    'FIBRE',
  ])('has the words %j that we look for', (words) => {
    expect(text).toContain(words);
  });
});
