import { describe, expect, it } from 'vitest';
import { parseEthtoolCounters } from '../../../src/collect/unix/ethtool-counters.ts';

/** Lines as `ethtool -S` prints them. Names of counters: common practice, from memory. */
const printed = (...lines: readonly string[]) => lines.map((line) => `     ${line}\n`).join('');
const named = (value: number, names: string) => ({ value, names });

describe('parseEthtoolCounters', () => {
  it.each([
    ['tx_late_collisions: 4', { lateCollisions: named(4, 'tx_late_collisions') }],
    ['tx_abort_late_coll: 0', { lateCollisions: named(0, 'tx_abort_late_coll') }],
    ['late_collisions: 1', { lateCollisions: named(1, 'late_collisions') }],
    ['rx_symbol_errors: 7', { rxSymbolErrors: named(7, 'rx_symbol_errors') }],
    ['rx_pcs_symbol_err_phy: 8', { rxSymbolErrors: named(8, 'rx_pcs_symbol_err_phy') }],
    ['rx_pause: 2', { rxPauseFrames: named(2, 'rx_pause') }],
    ['tx_pause_ctrl_phy: 3', { txPauseFrames: named(3, 'tx_pause_ctrl_phy') }],
    ['link_down_events_phy: 5', { linkDownEvents: named(5, 'link_down_events_phy') }],
  ])('%s', (line, read) => {
    expect(parseEthtoolCounters(printed(line))).toEqual(read);
  });

  it('adds the frames that stop to those that let go', () => {
    const lines = printed(
      'tx_flow_control_xon: 10',
      'rx_flow_control_xon: 1',
      'tx_flow_control_xoff: 20',
      'rx_flow_control_xoff: 2',
    );
    expect(parseEthtoolCounters(lines)).toEqual({
      rxPauseFrames: named(3, 'rx_flow_control_xon, rx_flow_control_xoff'),
      txPauseFrames: named(30, 'tx_flow_control_xon, tx_flow_control_xoff'),
    });
  });

  it.each([
    ['one half of the pause frames', 'rx_flow_control_xoff: 2'],
    ['one priority', 'rx_prio3_pause: 9'],
    ['a duration', 'rx_global_pause_duration: 9'],
    ['a transition', 'rx_prio0_pause_transition: 9'],
    ['symbols that were corrected', 'rx_corrected_symbols_total: 9'],
    ['a name inside another', 'my_rx_pause: 9'],
    ['no number', 'rx_pause: many'],
    ['a negative number', 'rx_pause: -1'],
    ['a number beyond 2^53', 'rx_pause: 18446744073709551615'],
    ['no blank in front', '\nrx_pause: 9'],
  ])('takes no count from %s', (_, line) => {
    const output = line.startsWith('\n') ? line : printed(line);
    expect(parseEthtoolCounters(output)).toEqual({});
  });

  it('takes the first of two lines of one name', () => {
    expect(parseEthtoolCounters(printed('rx_pause: 1', 'rx_pause: 2'))).toEqual({
      rxPauseFrames: named(1, 'rx_pause'),
    });
  });
});
