import { timingSafeEqual } from 'node:crypto';
import type { AuthContext, AuthenticationType, Connection, PublicKeyAuthContext } from 'ssh2';
import ssh2 from 'ssh2';
import type { HostRecord } from './ssh-host.ts';

/** Who is let into a simulated host, and how. */
export interface HostLogin {
  /** By default `auditor`. */
  readonly user?: string;
  /** Public keys in OpenSSH form. */
  readonly keys?: readonly string[];
  readonly password?: string;
  /** Asks for the password by keyboard-interactive with these prompts instead. */
  readonly prompts?: readonly string[];
  /** Refuses this many right passwords before it accepts one. */
  readonly refuseTimes?: number;
  /** Closes the connection at this many refusals; 6 by default, as a usual server. */
  readonly triesMax?: number;
  /** Wants both a key and a password. */
  readonly both?: boolean;
}

interface Around {
  readonly login: HostLogin;
  readonly record: HostRecord;
  readonly connection: Connection;
}

const refusals = new WeakMap<Connection, number>();
const keyAccepted = new WeakSet<Connection>();

/** Answers one login attempt as the host's `HostLogin` says. */
export function answerAuthentication(context: AuthContext, around: Around): void {
  const { login, record } = around;
  if (context.method === 'none') {
    context.reject(methodsOf(login));
    return;
  }
  const signed = context.method !== 'publickey' || context.signature !== undefined;
  if (signed || !isAuthorised(context, login)) {
    record.attempts.push(`${context.method} ${context.username}`);
  }
  if (context.username !== (login.user ?? 'auditor')) {
    refuse(context, around);
    return;
  }
  if (context.method === 'publickey') {
    answerKey(context, around);
    return;
  }
  if (context.method === 'password' && login.prompts === undefined) {
    answerPassword(context, context.password, around);
    return;
  }
  if (context.method === 'keyboard-interactive' && login.prompts !== undefined) {
    const prompts = login.prompts.map((prompt) => ({ prompt, echo: false }));
    context.prompt(prompts, (answers) => answerPassword(context, answers[0] ?? '', around));
    return;
  }
  refuse(context, around);
}

function methodsOf(login: HostLogin): AuthenticationType[] {
  const methods: AuthenticationType[] = [];
  if (login.keys !== undefined) methods.push('publickey');
  if (login.prompts !== undefined) methods.push('keyboard-interactive');
  else if (login.password !== undefined) methods.push('password');
  return methods;
}

function answerKey(context: PublicKeyAuthContext, around: Around): void {
  if (!isAuthorised(context, around.login)) {
    refuse(context, around);
    return;
  }
  // Without a signature the client only asks whether the key would do.
  if (context.signature === undefined || context.blob === undefined) {
    context.accept();
    return;
  }
  const key = ssh2.utils.parseKey(
    `${context.key.algo.replace(/^rsa-sha2-.*/, 'ssh-rsa')} ${context.key.data.toString('base64')}`,
  );
  if (key instanceof Error) {
    refuse(context, around);
    return;
  }
  if (key.verify(context.blob, context.signature, context.hashAlgo) !== true) {
    refuse(context, around);
    return;
  }
  if (around.login.both !== true) {
    context.accept();
    return;
  }
  keyAccepted.add(around.connection);
  context.reject(['password'], true);
}

function isAuthorised(context: AuthContext, login: HostLogin): boolean {
  if (context.method !== 'publickey') return false;
  return (login.keys ?? []).some((text) => {
    const key = ssh2.utils.parseKey(text);
    return !(key instanceof Error) && key.getPublicSSH().equals(context.key.data);
  });
}

function answerPassword(context: AuthContext, given: string, around: Around): void {
  const { login, record, connection } = around;
  const right = login.password !== undefined && same(given, login.password);
  if (!right || (login.both === true && !keyAccepted.has(connection))) {
    refuse(context, around);
    return;
  }
  if (record.refusals < (login.refuseTimes ?? 0)) {
    record.refusals += 1;
    refuse(context, around);
    return;
  }
  context.accept();
}

function refuse(context: AuthContext, { login, connection }: Around): void {
  const count = (refusals.get(connection) ?? 0) + 1;
  refusals.set(connection, count);
  if (count >= (login.triesMax ?? 6)) {
    connection.end();
    return;
  }
  context.reject(methodsOf(login));
}

function same(a: string, b: string): boolean {
  const [one, two] = [Buffer.from(a), Buffer.from(b)];
  return one.length === two.length && timingSafeEqual(one, two);
}
