/** Labels, samples and families of an OpenMetrics text, read by the rules of the standard. */
export interface ReadFamily {
  readonly name: string;
  readonly type: string;
  readonly unit: string | undefined;
  readonly samples: {
    readonly name: string;
    readonly labels: Readonly<Record<string, string>>;
    readonly value: number;
  }[];
}

const name = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const descriptor = new RegExp(`^# (TYPE|UNIT|HELP) (${name}) (.*)$`, 'u');
const sample = new RegExp(`^(${name})(?:\\{(.*)\\})? ([+-]?\\d+(?:\\.\\d*)?(?:e[+-]?\\d+)?)$`, 'u');
const label = /([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^\\"\n]|\\[\\"n])*)"(,|$)/uy;

/**
 * Reads OpenMetrics 1.0 text as strictly as its ABNF and its rules in words ask: one TYPE, UNIT and
 * HELP at most and in this order, a unit ends the name, no family and no label set twice, `_total`
 * for counters only, an end mark and nothing behind it. Throws where the text breaks one.
 */
export function readOpenmetrics(text: string): readonly ReadFamily[] {
  if (/\r|\ufeff/.test(text)) throw new Error('carriage return or byte order mark');
  if (!text.endsWith('# EOF\n')) throw new Error('no end mark');
  const families: ReadFamily[] = [];
  let said: string[] = [];
  for (const line of text.slice(0, -'# EOF\n'.length).split('\n').slice(0, -1)) {
    const [, keyword = '', about = '', words = ''] = descriptor.exec(line) ?? [];
    if (keyword === '') {
      addSample(line, families.at(-1));
      continue;
    }
    if (keyword === 'TYPE') {
      if (families.some((each) => each.name === about)) throw new Error(`${about} twice`);
      if (!/^(gauge|counter)$/.test(words)) throw new Error(`type ${words}`);
      families.push({ name: about, type: words, unit: undefined, samples: [] });
      said = [];
    }
    const family = families.at(-1);
    if (family?.name !== about || family.samples.length > 0)
      throw new Error(`${about} interleaved`);
    const order = ['TYPE', 'UNIT', 'HELP'];
    if (said.some((each) => order.indexOf(each) >= order.indexOf(keyword))) throw new Error(line);
    said.push(keyword);
    if (keyword === 'UNIT') {
      if (!about.endsWith(`_${words}`)) throw new Error(`${about} does not end in ${words}`);
      families[families.length - 1] = { ...family, unit: words };
    }
  }
  return families;
}

function addSample(line: string, family: ReadFamily | undefined): void {
  const [, own = '', labels = '', value = ''] = sample.exec(line) ?? [];
  const expected = family?.type === 'counter' ? `${family.name}_total` : family?.name;
  if (family === undefined || own !== expected) throw new Error(`no sample here: ${line}`);
  const read = { name: own, labels: readLabels(labels), value: Number(value) };
  const key = JSON.stringify(Object.entries(read.labels).sort());
  if (family.samples.some((each) => JSON.stringify(Object.entries(each.labels).sort()) === key)) {
    throw new Error(`a label set twice: ${line}`);
  }
  family.samples.push(read);
}

function readLabels(text: string): Record<string, string> {
  const labels: Record<string, string> = {};
  label.lastIndex = 0;
  while (label.lastIndex < text.length) {
    const [, key = '', value = ''] = label.exec(text) ?? [];
    if (key === '' || key in labels) throw new Error(`labels: ${text}`);
    labels[key] = value.replace(/\\([\\"n])/g, (_, c: string) => (c === 'n' ? '\n' : c));
  }
  return labels;
}
