import type { Hop } from '../site/types.ts';
import { hopMarks, hopWords } from './hop-words.ts';
import { clean, columnsOf, padEnd, wrap } from './layout.ts';
import type { DrawOptions, Measure } from './measure.ts';
import { opening, type Stand, standOf } from './opening.ts';
import type { Paint } from './paint.ts';

/** One hop: its name, its opening, and in words what it passes, its rate and its state. */
export function drawHop(hop: Hop, measure: Measure, options: DrawOptions): string[] {
  const stand = standOf(hop.clearance, measure.demandBytes);
  const marks = hopMarks(hop, measure);
  const tone = toneOf(stand, marks, options.paint);
  const drawing = {
    name: clean(hop.port.id),
    drawn: tone(
      opening(hop.clearance, stand, {
        columns: measure.openingColumns,
        fullBytes: measure.fullBytes,
      }),
    ),
    words: [hopWords(hop, stand), marks].filter((text) => text !== '').join('  '),
    tone: marks === '' ? options.paint.plain : tone,
  };
  return measure.beside ? beside(drawing, measure, options) : under(drawing, options);
}

interface Drawing {
  readonly name: string;
  readonly drawn: string;
  readonly words: string;
  readonly tone: (text: string) => string;
}

function under({ name, drawn, words, tone }: Drawing, { width }: DrawOptions): string[] {
  const said = words === '' ? [] : indented(wrap('    ', words, width), tone);
  return [...wrap('  ', name, width), `    ${drawn}`, ...said];
}

function beside(drawing: Drawing, measure: Measure, { width }: DrawOptions): string[] {
  const { name, drawn, words, tone } = drawing;
  const indent = ' '.repeat(measure.nameColumns + measure.openingColumns + 6);
  const [first = '', ...rest] = wrap(indent, words, width);
  const said = words === '' ? '' : `  ${tone(first.slice(indent.length))}`;
  const long = columnsOf(name) > measure.nameColumns;
  const head = `  ${padEnd(long ? '' : name, measure.nameColumns)}  ${drawn}${said}`;
  return [...(long ? wrap('  ', name, width) : []), head, ...indented(rest, tone)];
}

function indented(lines: readonly string[], tone: (text: string) => string): string[] {
  return lines.map((line) => {
    const text = line.trimStart();
    return `${line.slice(0, line.length - text.length)}${tone(text)}`;
  });
}

function toneOf(stand: Stand, marks: string, paint: Paint): (text: string) => string {
  if (stand === 'too small') return paint.wrong;
  if (stand === 'not settled' || stand === 'not known') return paint.unknown;
  return marks === '' ? paint.plain : paint.wrong;
}
