import { type ChildProcess, spawn } from 'node:child_process';
import { outOfFilesCode } from '../../facts/out-of-files.ts';
import type { Trouble } from '../../facts/trouble.ts';
import { scriptFor } from '../script-for.ts';
import type { ReadLimits, RunScript, ScriptOutcome, ShellKind } from '../types.ts';
import { complaintBytesMax, remoteCommands, type ScriptEnd } from './exec-script.ts';
import { scriptOutcome } from './script-outcome.ts';
import type { SshDeps } from './ssh-deps.ts';
import { expandPath, isSafeHost, isSafeUser } from './ssh-settings.ts';
import type { SshTarget } from './ssh-target.ts';
import { isSystemSshFailure, systemSshTrouble } from './system-ssh-trouble.ts';
import { filesSpent, quoted, troubleOf } from './trouble.ts';

/**
 * Asked of every `ssh`, whatever its configuration says: no question to anybody, no key that is not
 * recorded, no forwarding, no local command, no connection shared or left behind.
 */
const fixedOptions: readonly string[] = [
  'BatchMode=yes',
  'StrictHostKeyChecking=yes',
  'UpdateHostKeys=no',
  'ClearAllForwardings=yes',
  'ForwardAgent=no',
  'ForwardX11=no',
  'GSSAPIDelegateCredentials=no',
  'PermitLocalCommand=no',
  'ControlMaster=no',
  'ControlPath=none',
  'RemoteCommand=none',
  'RequestTTY=no',
  'LogLevel=ERROR',
];

/**
 * Runs scripts on one host by the system's own `ssh`, which can use certificates, keys held in
 * hardware and Kerberos tickets: one process and one command for each, bounded as our own are.
 */
export function systemSshRunner(target: SshTarget, deps: SshDeps): RunScript {
  return async (script, limits, signal) => {
    const shell: ShellKind = target.access.system === 'windows' ? 'powershell' : 'sh';
    const credential = `${target.access.user ?? ''} by the system's ssh`;
    const fault = systemSshFault(target);
    if (fault !== undefined) return { ok: false, trouble: fault };
    const argv = await argumentsFor(target, deps, { limits, shell });
    if (argv === undefined) {
      return {
        ok: false,
        trouble: troubleOf(
          'name-unknown',
          `nobody knows where ${target.at} is`,
          'correct at: of the node',
        ),
      };
    }
    if (!(await deps.ledger.ask(credential, signal))) return { ok: false, trouble: spent(target) };
    const outcome = await deps.systemSsh.turn(() =>
      runSsh({ argv, script: scriptFor(script, shell), limits, signal }, { target, deps, shell }),
    );
    const refused = !outcome.ok && outcome.trouble.kind === 'login-refused';
    deps.ledger.tell(credential, outcome.ok ? 'accepted' : refused ? 'refused' : 'unanswered');
    return outcome;
  };
}

/**
 * Why `ssh` is not started for a target: it would be an option or shell text to it, or asks of it
 * what it cannot do. Undefined: nothing speaks against it.
 */
export function systemSshFault({ at, access, hostKey }: SshTarget): Trouble | undefined {
  if (!isSafeHost(at)) {
    return troubleOf(
      'name-unknown',
      `${quoted(at)} is not a host name or address`,
      'correct at: of the node',
    );
  }
  if (access.user !== undefined && !isSafeUser(access.user)) {
    return troubleOf(
      'login-refused',
      `${quoted(access.user)} cannot be the name of an account`,
      'correct user: of the access',
    );
  }
  if (hostKey === undefined) return undefined;
  return troubleOf(
    'host-key-unknown',
    `the intent declares a host key of ${at}, which the system's ssh cannot be held to`,
    'record the key in known_hosts and leave identity: { hostKey } out, or leave through: system out',
  );
}

function spent({ at, access }: SshTarget) {
  const seen = `the login of ${access.user ?? 'this account'} by the system's ssh was refused by three nodes and is not tried at ${at}`;
  return troubleOf('credential-spent', seen, 'try it by hand: ssh -o BatchMode=yes to one of them');
}

interface Asked {
  readonly limits: ReadLimits;
  readonly shell: ShellKind;
}

async function argumentsFor(
  { at, atPort, access }: SshTarget,
  { locate, own, systemSsh }: SshDeps,
  { limits, shell }: Asked,
): Promise<readonly string[] | undefined> {
  const place = await locate?.(at, 'ssh').catch(() => undefined);
  if (locate !== undefined && place === undefined) return undefined;
  const port = place?.port ?? atPort ?? access.port;
  const connectSeconds = Math.max(1, Math.ceil(limits.connectMs / 1000));
  const options = [
    ...fixedOptions,
    `ConnectTimeout=${connectSeconds}`,
    // Where sites share private addresses their keys are recorded by the node's own name.
    ...(access.knownAs === undefined ? [] : [`HostKeyAlias=${access.knownAs}`]),
  ];
  return [
    '-T',
    ...(systemSsh.configFile === undefined ? [] : ['-F', systemSsh.configFile]),
    ...options.flatMap((option) => ['-o', option]),
    ...(access.user === undefined ? [] : ['-l', access.user]),
    ...(port === undefined ? [] : ['-p', String(port)]),
    ...(access.key === undefined ? [] : ['-i', expandPath(access.key, {}, own.home)]),
    ...(access.jump === undefined ? [] : ['-J', access.jump]),
    '--',
    place?.address ?? at,
    remoteCommands[shell],
  ];
}

interface SshProcess {
  readonly argv: readonly string[];
  readonly script: string;
  readonly limits: ReadLimits;
  readonly signal: AbortSignal;
}

interface Around {
  readonly target: SshTarget;
  readonly deps: SshDeps;
  readonly shell: ShellKind;
}

function runSsh(run: SshProcess, { target, deps, shell }: Around): Promise<ScriptOutcome> {
  const { limits, signal } = run;
  return new Promise((resolve) => {
    const child = spawn(deps.systemSsh.program, run.argv, {
      detached: true,
      env: deps.systemSsh.env,
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    const chunks: Buffer[] = [];
    let bytes = 0;
    let complaint = '';
    let settled = false;
    const context = { where: target.at, hostKey: undefined, shell, limits };
    const settle = (outcome: ScriptOutcome) => {
      if (settled) return;
      settled = true;
      clearTimeout(timer);
      signal.removeEventListener('abort', onTime);
      killGroup(child);
      resolve(outcome);
    };
    const end = (how: ScriptEnd) => settle(scriptOutcome(how, context));
    const onTime = () => {
      if (bytes > 0) end({ is: 'time', bytes, output: Buffer.concat(chunks) });
      else settle({ ok: false, trouble: systemSshTrouble(complaint, target.at, 'time') });
    };
    const timer = setTimeout(onTime, limits.wholeMs);
    signal.addEventListener('abort', onTime, { once: true });
    child.on('error', (error) => {
      const code = outOfFilesCode(error);
      const trouble = code === undefined ? noProgram : filesSpent(target.at, code);
      settle({ ok: false, trouble });
    });
    child.stdout.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > limits.outputBytesMax) end({ is: 'overlong' });
      else chunks.push(chunk);
    });
    child.stderr.on('data', (chunk: Buffer) => {
      if (complaint.length < complaintBytesMax) complaint += chunk.toString('utf8');
    });
    child.on('close', (code, killedBy) => {
      if (isSystemSshFailure(code)) {
        if (bytes > 0) end({ is: 'lost', bytes });
        else settle({ ok: false, trouble: systemSshTrouble(complaint, target.at, 'ended') });
        return;
      }
      const output = Buffer.concat(chunks);
      end({
        is: 'ended',
        output,
        complaint: complaint.slice(0, complaintBytesMax),
        ...(code === null ? {} : { exitCode: code }),
        ...(killedBy === null ? {} : { exitSignal: killedBy.slice(3) }),
      });
    });
    // A host that refuses closes the pipe; its words then tell what happened.
    child.stdin.on('error', () => {});
    child.stdin.end(run.script);
    if (signal.aborted) onTime();
  });
}

const noProgram = troubleOf(
  'key-unusable',
  `the system's ssh could not be started`,
  'install the OpenSSH client, or leave through: system out of the access',
);

/** `ssh` with whatever it started, a jump host's connection say. */
function killGroup(child: ChildProcess): void {
  child.stdout?.destroy();
  child.stderr?.destroy();
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // The group has already ended.
  }
}
