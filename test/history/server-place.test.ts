import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pgpassFor } from '../../src/history/pgpass.ts';
import { postgresSql } from '../../src/history/postgres-sql.ts';
import { isAway, isLost, serverFault } from '../../src/history/server-fault.ts';
import { isAddress, isServer, placeWords, serverPlace } from '../../src/history/server-place.ts';
import { StoreFault } from '../../src/history/store-fault.ts';
import { ownFolder } from './store.ts';

describe('the address of a store on a server', () => {
  const whole = { host: 'db.office.example', port: 5433, user: 'auditor', database: 'hopgauge' };

  it.each([
    [
      'postgres://auditor@db.office.example:5433/hopgauge',
      {},
      { ...whole, sslMode: 'verify-full' },
    ],
    [
      'postgresql://auditor@db.office.example:5433/hopgauge?sslmode=disable',
      {},
      { ...whole, sslMode: 'disable' },
    ],
    [
      'postgres:///',
      {
        PGHOST: 'db.office.example',
        PGPORT: '5433',
        PGUSER: 'auditor',
        PGDATABASE: 'hopgauge',
        PGSSLMODE: 'verify-ca',
        PGSSLROOTCERT: '/etc/ca.pem',
      },
      { ...whole, sslMode: 'verify-ca', sslRootCert: '/etc/ca.pem' },
    ],
    [
      'postgres://',
      {},
      { host: 'localhost', port: 5432, user: 'tide', database: 'tide', sslMode: 'disable' },
    ],
    [
      'postgres://[::1]/h',
      {},
      { host: '::1', port: 5432, user: 'tide', database: 'h', sslMode: 'disable' },
    ],
    [
      'postgres:///h?host=/run/postgresql',
      {},
      { host: '/run/postgresql', port: 5432, user: 'tide', database: 'h', sslMode: 'disable' },
    ],
  ] as const)('%s', (address, env, place) => {
    expect(isServer(address)).toBe(true);
    expect(serverPlace(address, env, 'tide')).toEqual(place);
  });

  it.each([
    [
      'postgres://auditor:s3cret@db/h',
      /holds a password, which anybody may read in the list of processes/,
    ],
    ['postgres://auditor:s3cret@db:99999/h', /cannot be read; write postgres:/],
    [
      'postgres://db/h?sslmode=prefer',
      /sslmode is 'prefer'; write disable, require, verify-ca, verify-full/,
    ],
    // A slash or two too few, or a password with signs that part an address (RFC 3986, 2.2).
    ['postgres:auditor:s3cret@db/h', /cannot be read; write postgres:/],
    ['postgres:/auditor:s3cret@db/h', /cannot be read; write postgres:/],
    ['postgres:///auditor:s3cret@db/h', /cannot be read; write postgres:/],
    ['postgres://auditor:1/s3cret@db/h', /cannot be read; write postgres:/],
    ['postgres://auditor:1?s3cret@db/h', /cannot be read; write postgres:/],
    ['postgres://auditor:1#s3cret@db/h', /cannot be read; write postgres:/],
    ['postgres://auditor@%zz/h', /cannot be read; write postgres:/],
    ['postgres://db/h?password=s3cret', /has 'password'; it takes sslmode, sslrootcert, host/],
  ])('refuses %s, and shows no password', (address, words) => {
    const look = () => serverPlace(address, {}, 'tide');
    expect(look).toThrow(StoreFault);
    expect(look).toThrow(words);
    expect(look).not.toThrow(/s3cret/);
  });

  it('is told from a file, and shown without its settings', () => {
    expect(isServer('history.sqlite')).toBe(false);
    expect(isServer('/srv/postgres.sqlite')).toBe(false);
    expect(isAddress('postgress://auditor@db/h')).toBe(true);
    // A colon left out, which would otherwise make a folder named like a user and a password.
    expect(isAddress('postgres//auditor@db/h')).toBe(true);
    expect(isAddress('postgres/history.sqlite')).toBe(false);
    expect(isAddress('./postgres:/history.sqlite')).toBe(false);
    expect(isAddress('C:\\srv\\history.sqlite')).toBe(false);
    const place = serverPlace('postgres://auditor@db/h?sslmode=require', {}, 'tide');
    expect(placeWords(place)).toBe('postgres://auditor@db:5432/h');
  });
});

describe('a password file', () => {
  const place = serverPlace('postgres://auditor@db/h', {}, 'tide');
  function fileOf(text: string, mode = 0o600): string {
    const file = join(ownFolder(), 'pgpass');
    writeFileSync(file, text);
    chmodSync(file, mode);
    return file;
  }

  // PostgreSQL 15, "The Password File": fields, wildcards, escapes, the first match, and the mode.
  it.each([
    ['the line of the place', 'other:5432:h:auditor:no\ndb:5432:h:auditor:yes\n', 'yes'],
    ['the first that matches', '*:*:*:auditor:yes\ndb:5432:h:auditor:no\n', 'yes'],
    ['escapes', '# a remark\ndb:5432:h:auditor:a\\:b\\\\c\n', 'a:b\\c'],
    ['another user', 'db:5432:h:other:no\n', undefined],
    ['a line that ends early', 'db:5432:h\n', undefined],
  ])('has %s', (_, text, password) => {
    const leftOut: string[] = [];
    expect(pgpassFor(fileOf(text), place, (line) => leftOut.push(line))).toBe(password);
    expect(leftOut).toEqual([]);
  });

  it('that others may read, or that is not there, has none', () => {
    const leftOut: string[] = [];
    const asked = (file: string) => pgpassFor(file, place, (line) => leftOut.push(line));
    const open = fileOf('*:*:*:*:no\n', 0o640);
    expect(asked(open)).toBeUndefined();
    expect(asked('/nowhere/pgpass')).toBeUndefined();
    expect(asked('/dev/null')).toBeUndefined();
    // The first is said, with what to do; a file that is not there is no fault.
    expect(leftOut).toEqual([
      `${open}: left out: mode 0640 lets others at the passwords; run: chmod 600 ${open}`,
      '/dev/null: left out: not a regular file; give the path of a file',
    ]);
  });
});

describe('a fault of a server', () => {
  const at = 'postgres://auditor@db:5432/h';
  const coded = (code: string) => Object.assign(new Error('x'), { code });

  // SQLSTATE codes: PostgreSQL 15, Appendix A; the others are of libuv and OpenSSL.
  it.each([
    [coded('28P01'), 'unusable', 'the server refused the password'],
    [coded('42501'), 'unusable', 'the user has no right to do this'],
    [coded('53100'), 'unusable', 'the disk of the server is full'],
    [coded('55P03'), 'locked', 'another run is writing it'],
    [coded('XX001'), 'unusable', 'the server could not do it'],
    [coded('ECONNREFUSED'), 'unusable', 'no server answers there'],
    [coded('CERT_HAS_EXPIRED'), 'unusable', 'the certificate of the server has ended'],
    [coded('57P01'), 'unusable', 'the connection to the server was lost'],
    [
      new Error('Connection terminated unexpectedly'),
      'unusable',
      'the connection to the server was lost',
    ],
    [new Error('timeout expired'), 'unusable', 'the server gave no answer in time'],
    [
      new Error('The server does not support SSL connections'),
      'unusable',
      'the server offers no TLS',
    ],
    [new AggregateError([coded('ECONNREFUSED')]), 'unusable', 'no server answers there'],
  ] as const)('%s says what it is and what to do', (error, kind, words) => {
    const fault = serverFault(at, error);
    expect(fault.kind).toBe(kind);
    expect(fault.message).toMatch(new RegExp(`^${at}: ${words}.*[;,] .+`));
  });

  it('of rights names what they are missing for', () => {
    // Words of PostgreSQL 15 (aclcheck_error in aclchk.c).
    const error = Object.assign(new Error('permission denied for table job'), { code: '42501' });
    expect(serverFault(at, error).message).toMatch(/ \(42501: permission denied for table job\)$/);
  });

  it('that is one already stays as it is, and a bug is thrown on', () => {
    const fault = new StoreFault('unusable', 'said before');
    expect(serverFault(at, fault)).toBe(fault);
    expect(() => serverFault(at, new TypeError('x is not a function'))).toThrow(TypeError);
  });

  it('ends the session or not', () => {
    expect(isLost(coded('57P01'))).toBe(true);
    expect(isLost(coded('08006'))).toBe(true);
    expect(isLost(coded('23505'))).toBe(false);
    expect(isLost(new TypeError('x'))).toBe(false);
  });

  it('say whether to wait for the server makes sense', () => {
    // connect(2), getaddrinfo(3), PostgreSQL 15 Appendix A: starting, too many connections.
    for (const code of ['ECONNREFUSED', 'EHOSTUNREACH', 'EAI_AGAIN', '57P03', '53300'])
      expect(isAway(coded(code)), code).toBe(true);
    // A password, a database, a name, a certificate that is wrong.
    for (const code of ['28P01', '3D000', 'ENOTFOUND', 'CERT_HAS_EXPIRED'])
      expect(isAway(coded(code)), code).toBe(false);
  });
});

it('only the types of columns differ between the engines', () => {
  expect(
    postgresSql('create table t (t_id integer primary key, a integer not null, b text, c blob)'),
  ).toBe(
    'create table t (t_id bigint generated by default as identity primary key, a bigint not null, b text collate "C", c bytea)',
  );
  const statement = "select text from t where integer = $1 and blob <> 'text'";
  expect(postgresSql(statement)).toBe(statement);
});
