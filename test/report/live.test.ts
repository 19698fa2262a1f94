import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { screenOn } from '../../src/cli/live-screen.ts';
import { freshPort, nextLook } from '../../src/probe/live-changes.ts';
import type { LiveLook } from '../../src/probe/live-types.ts';
import { type BoardPort, boardLines } from '../../src/report/live-board.ts';
import { changeJson } from '../../src/report/live-json.ts';
import { liveSummary } from '../../src/report/live-text.ts';
import { look, looksAt } from '../probe/live-looks.ts';

const declared = { speedMbps: 10_000, duplex: 'full', packetBytes: 9000 } as const;

function port(id: string, ...looks: readonly LiveLook[]): BoardPort {
  let state = freshPort;
  for (const [at, each] of looks.entries()) state = nextLook(state, looksAt(at), each).state;
  return { id, declared, state };
}

const modes = { partnerModes: ['1000baseT/Full', '10000baseT/Full'] };
const ports = [
  port('plot-1:desk', look({ up: false }), look({ ...modes, speedMbps: 1000 })),
  port('quay-sw:xg2', look({}), look({ up: false, rxErrors: undefined })),
  { ...port('vault:eth4', look({}), look({})), lost: 'nothing came from vault for 6 s' },
];
const board = { ports, nowMs: looksAt(9).atMs, untilMs: looksAt(59).atMs };

describe('boardLines', () => {
  it('has a line for each port', () => {
    const lines = boardLines(board, { width: 110, height: 24, colour: false });
    expect(lines.map((line) => line.split(/ {2,}/))).toEqual([
      ['port', 'link', 'speed', 'errors/s', 'last change', 'far side offers'],
      ['plot-1:desk', 'up', '1 Gb/s full, declared 10 Gb/s', '0', '02:13:01', '1 Gb/s, 10 Gb/s'],
      ['quay-sw:xg2', 'down', 'not told', '02:13:01'],
      ['vault:eth4', 'no answer', 'none seen'],
      ['02:13:09 UTC; ends at 02:13:59, or with Ctrl-C'],
    ]);
  });

  it.each([10, 20, 40, 60, 80, 200])('never fills a terminal of %i columns', (width) => {
    for (const colour of [true, false]) {
      for (const line of boardLines(board, { width, height: 24, colour })) {
        expect(stringWidth(line)).toBeLessThan(Math.max(width, 11));
      }
    }
  });

  it('keeps port, link and speed where it is narrow', () => {
    const [head] = boardLines(board, { width: 60, height: 24, colour: false });
    expect(head?.split(/ {2,}/)).toEqual(['port', 'link', 'speed']);
  });

  it('says how many ports have no room', () => {
    const many = {
      ...board,
      ports: Array.from({ length: 20 }, (_, i) => port(`quay-sw:g${i}`, look({}))),
    };
    const lines = boardLines(many, { width: 80, height: 10, colour: false });
    expect(lines).toHaveLength(9);
    expect(lines.at(-2)).toBe('and 14 more ports, of which changes are told');
  });

  it('cleans a hostile name', () => {
    const hostile = { ...board, ports: [port('store:\u001b[2Jeth1', look({}))] };
    expect(boardLines(hostile, { width: 80, height: 24, colour: false }).join('')).not.toContain(
      '\u001b',
    );
  });
});

describe('screenOn', () => {
  function drawn(columns: number) {
    const out = {
      written: '',
      isTerminal: true,
      columns,
      write: (text: string) => {
        out.written += text;
      },
    };
    return out;
  }

  it('goes back over its own board, and over no line above it', () => {
    const out = drawn(80);
    const screen = screenOn(out);
    screen.show(['first'], ['a', 'b']);
    screen.show(['second'], ['c', 'd']);
    screen.show(['end'], []);
    expect(out.written).toBe(
      '\r\u001b[Jfirst\na\nb\n\u001b[2A\r\u001b[Jsecond\nc\nd\n\u001b[2A\r\u001b[Jend\n',
    );
  });

  it('counts the rows that a narrower window makes of it', () => {
    const out = drawn(80);
    const screen = screenOn(out);
    screen.show([], ['x'.repeat(70)]);
    out.columns = 40;
    screen.show([], ['y']);
    expect(out.written).toContain('\u001b[2A');
  });

  it('changes no mode of the terminal', () => {
    const out = drawn(80);
    screenOn(out).show(['a'], ['b']);
    expect(out.written).not.toMatch(/\u001b\[\?|\u001bc/);
  });
});

describe('liveSummary', () => {
  it('says of each port what changed and how it stands', () => {
    expect(liveSummary(ports, { seconds: 9, ended: 'stopped' })).toEqual([
      'stopped after 9 s:',
      '  plot-1:desk 1 change of the link; now link up at 1 Gb/s full; declared 10 Gb/s; the far side offers up to 10 Gb/s',
      '  quay-sw:xg2 1 change of the link; now link down',
      '  vault:eth4 no change of the link; when it was last heard, link up at 10 Gb/s full',
    ]);
  });
});

describe('changeJson', () => {
  it('leaves out what is not known, with its reason', () => {
    const change = { kind: 'down', atMs: looksAt(1).atMs, look: look({ up: false }) } as const;
    expect(changeJson('store:eth1', change, declared)).toBe(
      '{"at":"2026-11-26T02:13:01.000Z","of":"store:eth1","change":"down","words":"link down","now":{"adminUp":true,"operUp":false,"mtuBytes":9000},"absent":{"speedMbps":"down","duplex":"down","autoNegotiation":"unsupported","partnerModes":"down"},"declared":{"speedMbps":10000,"duplex":"full","packetBytes":9000}}',
    );
  });
});
