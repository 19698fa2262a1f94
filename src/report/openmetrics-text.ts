/** One sample of a family: its labels in the order given, and its value. */
export interface MetricSample {
  readonly labels: Readonly<Record<string, string>>;
  readonly value: number;
}

/** Samples under one name (OpenMetrics 1.0, MetricFamily). */
export interface MetricFamily {
  /** With the unit as its end, where it has one. */
  readonly name: string;
  readonly type: 'gauge' | 'counter';
  readonly unit?: string;
  readonly help: string;
  readonly samples: Iterable<MetricSample>;
}

/**
 * Families as OpenMetrics 1.0 text, with its end mark. A family without samples is left out; of
 * samples with equal labels the first is kept, since the standard has each once; a number that is
 * none, or a counter below 0, is left out.
 */
export function* openmetricsText(families: Iterable<MetricFamily>): Iterable<string> {
  for (const family of families) yield* familyLines(family);
  yield '# EOF\n';
}

function familyLines({ name, type, unit, help, samples }: MetricFamily): readonly string[] {
  const known = new Set<string>();
  const lines: string[] = [];
  for (const { labels, value } of samples) {
    if (!Number.isFinite(value) || (type === 'counter' && value < 0)) continue;
    const key = labelText(labels);
    const end = type === 'counter' ? '_total' : '';
    if (known.has(key)) continue;
    known.add(key);
    lines.push(`${name}${end}${key} ${value}\n`);
  }
  if (lines.length === 0) return [];
  return [
    `# TYPE ${name} ${type}\n`,
    ...(unit === undefined ? [] : [`# UNIT ${name} ${unit}\n`]),
    `# HELP ${name} ${escapeMetricText(help)}\n`,
    ...lines,
  ];
}

function labelText(labels: MetricSample['labels']): string {
  const given = Object.entries(labels).map(
    ([name, value]) => `${name}="${escapeMetricText(value)}"`,
  );
  return given.length === 0 ? '' : `{${given.join(',')}}`;
}

const escapes: Readonly<Record<string, string>> = { '\\': '\\\\', '"': '\\"', '\n': '\\n' };

/** Text of a label or of help, with the three escapes of the standard. */
export function escapeMetricText(text: string): string {
  return text.replace(/[\\"\n]/g, (found) => escapes[found] ?? found);
}
