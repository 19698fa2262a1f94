import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import { lineLengthMax } from './text.ts';

/** What one command of the script printed. */
export interface Section {
  /** Name in the script, such as `ip-link` or `ethtool`; letters, digits and hyphens. */
  readonly name: string;
  /** What it was asked about: port or address in plain characters; `` for the node itself. */
  readonly about: string;
  /** Standard output. Untrusted. */
  readonly output: string;
  /** Standard error. Untrusted. */
  readonly words: string;
  readonly status: number;
}

/** The sections of an answer. */
export interface Framed {
  /** The begin mark was seen. */
  readonly begun: boolean;
  /** The end mark was seen: nothing is missing. */
  readonly whole: boolean;
  /** All but the last questions, which may take long, was answered; true where `whole` is. */
  readonly core: boolean;
  /** Sections that came whole; of several with one name and subject the last. */
  readonly sections: ReadonlyMap<string, Section>;
  /** The first line that stood outside, for messages. Untrusted. */
  readonly noise: string;
}

/** Sections that one answer may have; the script makes fewer than 1700. */
const sectionsMax = 4096;

/** Key of a section in `Framed.sections`. */
export function sectionKey(name: string, about = ''): string {
  return `${name} ${about}`;
}

/** Sections of one name, whatever they were asked about, in the order of the answer. */
export function sectionsOf({ sections }: Framed, name: string): readonly Section[] {
  return [...sections.values()].filter((section) => section.name === name);
}

interface Open {
  readonly key: string;
  readonly output: string[];
  readonly words: string[];
  part: 'output' | 'words';
}

/**
 * Takes an answer apart at the lines that begin with the marker. Noise before, between and after
 * is left out; a section that does not reach its closing line is left out too, because its last
 * number may be half a number.
 */
export function framesOf(bytes: Uint8Array, marker: string): Framed {
  // A NUL becomes a character that no pattern accepts: dropped, it would join two halves.
  const text = new TextDecoder('utf-8').decode(bytes).replaceAll('\0', '\ufffd');
  const lines = text.split('\n');
  lines.pop();
  const sections = new Map<string, Section>();
  const prefix = `${marker} `;
  let begun = false;
  let whole = false;
  let core = false;
  let noise = '';
  let open: Open | undefined;
  for (const raw of lines) {
    const line = raw.endsWith('\r') ? raw.slice(0, -1) : raw;
    if (!line.startsWith(prefix)) {
      // Only JSON comes in long lines; a pattern over a long line of text can take for ever.
      const read = line.length <= lineLengthMax || line.startsWith('[');
      if (open !== undefined) open[open.part].push(read ? line : '');
      else if (noise === '') noise = line.slice(0, lineLengthMax).trim();
      continue;
    }
    const mark = line.slice(prefix.length);
    if (mark === 'begin 1') begun = true;
    if (!begun) continue;
    if (mark === 'end') {
      whole = open === undefined;
      break;
    }
    if (mark === 'rest') core = open === undefined;
    open = step(open, mark, sections);
  }
  return { begun, whole, core: core || whole, sections, noise };
}

function step(
  open: Open | undefined,
  mark: string,
  sections: Map<string, Section>,
): Open | undefined {
  const opening = /^open ([a-z0-9-]{1,32})(?: ([A-Za-z0-9_.:@-]{1,64}))?$/.exec(mark);
  if (opening !== null) {
    const key = sectionKey(opening[1] ?? '', opening[2]);
    return { key, output: [], words: [], part: 'output' };
  }
  if (open === undefined) return undefined;
  if (mark === 'words' && open.part === 'output') {
    open.part = 'words';
    return open;
  }
  const closing = /^close (\d{1,3})$/.exec(mark);
  if (closing === null || open.part !== 'words') return undefined;
  const [name = '', about = ''] = open.key.split(' ');
  // The script puts a line end before each mark, so that a last line without one stays apart.
  const output = open.output.join('\n').replace(/\n$/, '');
  const words = open.words.join('\n').trim();
  if (sections.size < sectionsMax || sections.has(open.key)) {
    sections.delete(open.key);
    sections.set(open.key, { name, about, output, words, status: Number(closing[1]) });
  }
  return undefined;
}

/** The trouble of an answer without a begin mark; the remedy is the caller's. */
export function noMarks({ noise }: Framed, remedy: string): Trouble {
  const seen = cleanText(noise, 120);
  return {
    kind: 'no-marks',
    seen: seen === '' ? 'no answer to the script' : `not an answer to the script: "${seen}"`,
    remedy,
  };
}
