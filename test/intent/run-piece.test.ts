import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseRunPiece } from '../../src/intent/run-piece.ts';

describe('parseRunPiece', () => {
  it.each([
    ['cord cat6a 2 m', { kind: 'cord', category: 'cat6a', lengthMetres: 2 }],
    [
      'cord cat6 2 m field-terminated',
      { kind: 'cord', category: 'cat6', lengthMetres: 2, fieldTerminated: true },
    ],
    ['cord om4 50 cm', { kind: 'cord', category: 'om4', lengthMetres: 0.5 }],
    ['wall cat7 21.55 m', { kind: 'wall', category: 'cat7', lengthMetres: 21.55 }],
    ['wall cat5e', { kind: 'wall', category: 'cat5e' }],
    ['wall 21m', { kind: 'wall', lengthMetres: 21 }],
    ['cord', { kind: 'cord' }],
    ['fibre os2 1.2 km', { kind: 'fibre', category: 'os2', lengthMetres: 1200 }],
    ['direct-attach 3 m', { kind: 'direct-attach', lengthMetres: 3 }],
    ['jack W-07', { kind: 'jack', label: 'W-07' }],
    ['jack room 3 left', { kind: 'jack', label: 'room 3 left' }],
    ['panel', { kind: 'panel' }],
    ['module 10gbase-t', { kind: 'module', moduleType: '10GBASE-T' }],
    ['module 1000BASE-LX10', { kind: 'module', moduleType: '1000BASE-LX10' }],
    ['module 2.5GBASE-T', { kind: 'module', moduleType: '2.5GBASE-T' }],
  ])('%s', (text, expected) => {
    expect(parseRunPiece(text)).toEqual({
      ok: true,
      piece: { fieldTerminated: false, ...expected, text },
    });
  });

  it.each([
    [
      '',
      'is no known kind of piece; begin with one of cord, wall, fibre, direct-attach, jack, panel, module',
    ],
    ['Jack W', "is no known kind of piece; write 'jack'"],
    ['module', "is a module of no known type; write its type, such as 'module 10GBASE-T'"],
    [
      'fibre om3 40 m field-terminated',
      'is fibre and field-terminated; remove field-terminated: cords and walls only',
    ],
    [
      'direct-attach cat6 3 m',
      "has a length of no known form; write it in cm, m or km, such as '2 m'",
    ],
    ['cord cat6 0 m', "has a length of no known form; write it in cm, m or km, such as '2 m'"],
    ['cord cat6 -2 m', "has a length of no known form; write it in cm, m or km, such as '2 m'"],
    ['cord cat6 201 km', "has a length of no known form; write it in cm, m or km, such as '2 m'"],
    ['cord cat6 1e3 m', "has a length of no known form; write it in cm, m or km, such as '2 m'"],
  ])('refuses %j', (text, message) => {
    expect(parseRunPiece(text)).toEqual({ ok: false, message });
  });

  it('never throws and always tells what and what to do', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = parseRunPiece(text);
        if (!read.ok) expect(read.message.split('; ')).toHaveLength(2);
      }),
    );
  });
});
