import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadSurvey } from '../../src/facts/saved-survey.ts';
import { audit, brokenIn } from './harness/audit.ts';
import { ipByHand } from './harness/by-hand.ts';
import { hopgauge, writeRunFile } from './harness/cli.ts';
import { type IntentDraft, intentFor } from './harness/intent.ts';
import { type Realm, recordHostKey, setTicketOptions, startRealm } from './harness/kerberos.ts';
import { ticketName } from './harness/kerberos-files.ts';
import { type Lab, startLab, stopLab } from './harness/lab.ts';
import { dataAddress, planFor } from './harness/plan.ts';

// GSSAPI (RFC 4462, gssapi-with-mic) by Kerberos tickets (RFC 4120) of a real key distribution centre
// on vault: plot takes them and nothing else, neither a key nor a password.

let lab: Lab;
let realm: Realm;
beforeAll(async () => {
  lab = await startLab(planFor());
  realm = await startRealm(lab, { centre: 'vault', host: 'plot' });
});
afterAll(() => stopLab(lab));

interface Way {
  readonly user?: string;
  readonly at?: string;
  readonly env?: Readonly<Record<string, string>>;
}

function intentBy({ user = 'auditor', at = ticketName('plot') }: Way): string {
  return intentFor(lab, (draft: IntentDraft) => {
    draft.access['tickets'] = { ssh: { user, through: 'system' } };
    draft.nodes['plot'] = { at, access: ['tickets'] };
  });
}

/** Audits, and gives the one reading of plot beside what is broken. */
async function auditBy(way: Way = {}) {
  const { status, report } = await audit(lab, intentBy(way), { env: way.env ?? realm.env });
  const readings = report.nodes.find(({ name }) => name === 'plot')?.readings ?? [];
  expect(readings).toHaveLength(1);
  return { status, trouble: readings[0]?.trouble, broken: brokenIn(report) };
}

const logins = () =>
  readFileSync(join(lab.directory, 'plot-sshd.log'), 'utf8')
    .split(/\r?\n/)
    .filter((line) => line.startsWith('Accepted '));

const accepted = expect.stringMatching(
  /^Accepted gssapi-with-mic for auditor from 198\.18\.1\.2 port \d+ ssh2: auditor@LAB\.OFFICE\.EXAMPLE$/,
);

/** What an audit makes of a host whose login is refused. */
const refused = {
  status: 2,
  broken: [],
  trouble: {
    kind: 'login-refused',
    seen: expect.stringContaining('Permission denied (gssapi-keyex,gssapi-with-mic)'),
    remedy: expect.stringMatching(/klist.*kinit/),
  },
};

describe('a host that takes tickets alone', () => {
  it('is audited with one, by one login', async () => {
    await realm.fetch(600);
    const before = logins().length;
    expect(await auditBy()).toEqual({ status: 0, trouble: undefined, broken: [] });
    expect(logins().slice(before)).toEqual([accepted]);
  });

  it('is surveyed with one: its ports are what they are by hand', async () => {
    await realm.fetch(600);
    const file = writeRunFile(lab, 'tickets.yaml', intentBy({}));
    const argv = ['survey', file, '--format', 'json', '--quiet'];
    const ran = await hopgauge(lab, argv, { env: realm.env });
    const loaded = loadSurvey(ran.stdout, 'survey');
    if (!loaded.ok) throw new Error(`${loaded.message}: ${ran.stderr}`);
    const ports = loaded.survey.nodes.find(({ node }) => node === 'plot')?.ports ?? [];
    const read = ports.map(({ name, facts }) => [name, facts.mtuBytes, facts.macAddress]);
    const links = await ipByHand(lab.machine('plot'), ['link']);
    const byHand = links.map(({ ifname, mtu, address }) => [ifname, mtu, address]);
    const wired = ([name]: readonly unknown[]) => name === 'eth0' || name === 'mgmt0';
    expect(read.filter(wired)).toEqual(byHand.filter(wired).sort());
    expect(read.filter(wired)).toHaveLength(2);
  });

  it('is audited with a key that fetches one by itself, as a timer has it', async () => {
    await realm.destroy();
    const env = { ...realm.env, KRB5_CLIENT_KTNAME: realm.keytab };
    expect(await auditBy({ env })).toMatchObject({ status: 0, trouble: undefined });
  });

  it('refuses who has none, and the trouble says what fetches one', async () => {
    await realm.fetch(600);
    await realm.destroy();
    const before = logins().length;
    expect(await auditBy()).toEqual(refused);
    expect(logins().slice(before)).toEqual([]);
  });

  it('refuses one that has run out', async () => {
    await realm.fetch(1);
    await realm.untilRunOut();
    expect(await auditBy()).toEqual(refused);
  });

  it('refuses an account that is not of the ticket, and an address that none is for', async () => {
    await realm.fetch(600);
    expect(await auditBy({ user: 'plain' })).toEqual(refused);
    expect(await auditBy({ at: dataAddress(lab.node('plot')) })).toEqual(refused);
  });
});

describe('the host key of a host that takes tickets', () => {
  const keys = [
    ['is not known', undefined, 'host-key-unknown', 2],
    // Another machine at the address of a node is a finding.
    ['is another', 'vault', 'host-key-changed', 1],
  ] as const;

  it.each(keys)('is checked before the ticket is used: it %s', async (_how, keyOf, kind, end) => {
    await realm.fetch(600);
    recordHostKey(lab, 'plot', keyOf);
    const before = logins().length;
    const { status, trouble } = await auditBy();
    recordHostKey(lab, 'plot', 'plot');
    expect({ status, kind: trouble?.kind }).toEqual({ status: end, kind });
    expect(logins().slice(before)).toEqual([]);
  });

  it('is not looked at where the configuration lets the realm vouch for the host', async () => {
    await realm.fetch(600);
    recordHostKey(lab, 'plot', undefined);
    setTicketOptions(lab, ['GSSAPIAuthentication yes', 'GSSAPIKeyExchange yes']);
    const withTicket = await auditBy();
    await realm.destroy();
    const without = await auditBy();
    setTicketOptions(lab, ['GSSAPIAuthentication yes']);
    recordHostKey(lab, 'plot', 'plot');
    expect(withTicket).toMatchObject({ status: 0, trouble: undefined });
    expect(without.trouble?.kind).toBe('host-key-unknown');
  });
});
