import { nearestWord } from './nearest.ts';
import { copperCategories, fibreTypes, type RunPiece } from './types.ts';

/** Longest piece of a run, in metres: more than any Ethernet optic of IEEE Std 802.3 reaches. */
const lengthMetresMax = 200_000;

/** A piece without its place. */
export type ParsedPiece = Omit<RunPiece, 'place'>;

/** A piece, or what is wrong with it: `what; do`. */
export type PieceRead =
  | { readonly ok: true; readonly piece: ParsedPiece }
  | { readonly ok: false; readonly message: string };

type Category = NonNullable<RunPiece['category']>;

const kinds = ['cord', 'wall', 'fibre', 'direct-attach', 'jack', 'panel', 'module'] as const;
const categories: readonly string[] = [...copperCategories, ...fibreTypes];
const fibres: readonly string[] = fibreTypes;
const lengthText = /^(\d{1,6}(?:\.\d{1,3})?) ?(cm|m|km)$/;
// IEEE Std 802.3 names of physical layers: 10GBASE-T, 2.5GBASE-T, 1000BASE-LX10.
const moduleText = /^\d{1,4}(?:\.\d)?G?BASE-[A-Z][A-Z0-9-]{0,11}$/;
const centimetresIn: Readonly<Record<string, number>> = { cm: 1, m: 100, km: 100_000 };

/**
 * Reads a piece of a run: `cord cat6a 2 m`, `wall cat6a 21 m`, `fibre om3 40 m`,
 * `direct-attach 3 m`, `jack W-07`, `panel B/12`, `module 10GBASE-T`; a cord or wall cable may end
 * in `field-terminated`. Category, length and label may be left out where they are not known.
 */
export function parseRunPiece(text: string): PieceRead {
  const [word = '', ...rest] = text.split(' ');
  const kind = kinds.find((known) => known === word);
  if (kind === undefined) return wrong('is no known kind of piece', kindRemedy(word));
  if (kind === 'jack' || kind === 'panel') return labelled(text, kind, rest.join(' '));
  if (kind === 'module') return moduleOf(text, rest.join(' '));
  return cable(text, kind, rest);
}

function kindRemedy(word: string): string {
  const near = nearestWord(word, kinds);
  return near === undefined ? `begin with one of ${kinds.join(', ')}` : `write '${near}'`;
}

function wrong(what: string, remedy: string): PieceRead {
  return { ok: false, message: `${what}; ${remedy}` };
}

function labelled(text: string, kind: 'jack' | 'panel', label: string): PieceRead {
  const named = label === '' ? {} : { label };
  return { ok: true, piece: { kind, ...named, fieldTerminated: false, text } };
}

function moduleOf(text: string, type: string): PieceRead {
  const moduleType = type.toUpperCase();
  if (!moduleText.test(moduleType)) {
    return wrong('is a module of no known type', "write its type, such as 'module 10GBASE-T'");
  }
  return { ok: true, piece: { kind: 'module', moduleType, fieldTerminated: false, text } };
}

function cable(
  text: string,
  kind: 'cord' | 'wall' | 'fibre' | 'direct-attach',
  words: readonly string[],
): PieceRead {
  const fieldTerminated = words.at(-1) === 'field-terminated';
  if (fieldTerminated && kind !== 'cord' && kind !== 'wall') {
    return wrong(
      `is ${kind} and field-terminated`,
      'remove field-terminated: cords and walls only',
    );
  }
  const body = fieldTerminated ? words.slice(0, -1) : words;
  const category = categoryOf(kind, body[0]);
  const lengthWords = category === undefined ? body : body.slice(1);
  if (lengthWords.length === 0) return made(text, { kind, category, fieldTerminated });
  const lengthMetres = lengthOf(lengthWords.join(' '));
  if (lengthMetres === undefined) return badCable(kind, lengthWords);
  return made(text, { kind, category, lengthMetres, fieldTerminated });
}

interface CableParts {
  readonly kind: RunPiece['kind'];
  readonly category: Category | undefined;
  readonly lengthMetres?: number;
  readonly fieldTerminated: boolean;
}

function made(text: string, { category, ...parts }: CableParts): PieceRead {
  return { ok: true, piece: { ...parts, ...(category === undefined ? {} : { category }), text } };
}

function categoriesOf(kind: RunPiece['kind']): readonly string[] {
  if (kind === 'direct-attach') return [];
  return kind === 'fibre' ? fibres : categories;
}

function categoryOf(kind: RunPiece['kind'], word: string | undefined): Category | undefined {
  const known = [...copperCategories, ...fibreTypes].find((category) => category === word);
  return known !== undefined && categoriesOf(kind).includes(known) ? known : undefined;
}

function badCable(kind: RunPiece['kind'], words: readonly string[]): PieceRead {
  const [first = ''] = words;
  const allowed = categoriesOf(kind);
  if (/^[a-z]/i.test(first) && allowed.length > 0) {
    return wrong(`is a ${kind} of no known category`, `write one of ${allowed.join(', ')}`);
  }
  return wrong('has a length of no known form', "write it in cm, m or km, such as '2 m'");
}

function lengthOf(text: string): number | undefined {
  const [, digits = '', unit = ''] = lengthText.exec(text) ?? [];
  const factor = centimetresIn[unit];
  if (factor === undefined) return undefined;
  const metres = Math.round(Number(digits) * factor * 1_000) / 100_000;
  return metres > 0 && metres <= lengthMetresMax ? metres : undefined;
}
