import { describe, expect, it } from 'vitest';
import { cronText } from '../../src/schedule/cron-text.ts';
import { night } from './nightly.ts';

const main = '/usr/local/lib/node_modules/hopgauge/dist/cli/main.js';
const { user: _, ...mine } = night;

function tableOf(text: string): string[] {
  return text.split('\n').filter((line) => line !== '' && !line.startsWith('#'));
}

describe('lines for cron', () => {
  it('are those of a table of the system where an account is named', () => {
    const text = cronText({ ...night, hour: 20, minute: 5 });
    expect(tableOf(text)).toEqual([
      'SHELL=/bin/sh',
      `5 20 * * * auditor /usr/bin/node ${main} audit /etc/hopgauge/saltmarsh.yaml --changes --deadline 30m --spread 10m`,
      `5 2 * * * auditor said=$(/usr/bin/node ${main} history --intent /etc/hopgauge/saltmarsh.yaml --complete-within 26h 2>&1) || echo "$said"`,
    ]);
    expect(text).toContain('/etc/cron.d/hopgauge,');
    // crontab(5): a last line without its end is not run.
    expect(text.endsWith('"\n')).toBe(true);
  });

  it('are those of an own table where none is', () => {
    const text = cronText(mine);
    expect(tableOf(text)[1]).toMatch(/^0 2 \* \* \* \/usr\/bin\/node /);
    expect(text).toContain('crontab -e');
    expect(text).toContain('#MAILTO=');
  });
});
