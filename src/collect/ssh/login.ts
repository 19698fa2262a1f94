import type { AnyAuthMethod, KeyboardInteractiveAuthMethod, Prompt } from 'ssh2';
import { cleanText } from '../../facts/clean-text.ts';
import type { Trouble } from '../../facts/trouble.ts';
import type { Secret } from '../types.ts';
import type { CredentialLedger } from './credential-ledger.ts';
import type { Candidate, Offer } from './credentials.ts';
import { quoted, troubleOf } from './trouble.ts';

/**
 * Credentials offered on one connection, at most: a usual server closes at the sixth refusal
 * (sshd_config(5) MaxAuthTries), and one that counts refusals per address is not provoked.
 */
export const offersPerLoginMax = 5;

/** Methods of a server that a message lists, at most. */
const methodsShownMax = 8;

/** What a login may offer, in order. */
export interface LoginOptions {
  readonly user: string;
  readonly where: string;
  readonly candidates: readonly Candidate[];
  readonly ledger: CredentialLedger;
  readonly signal: AbortSignal;
  /** Runs work that may wait for a person, whose time is not the node's. */
  readonly hold: <T>(work: Promise<T>) => Promise<T>;
}

/** One login: gives the methods in turn and remembers how each went. */
export interface Login {
  /** The next method; false when there is none left. For the library's authHandler. */
  readonly next: (
    left: readonly string[] | null,
    partial: boolean,
  ) => Promise<AnyAuthMethod | false>;
  /** To be called once, however the login ends. */
  readonly end: (how: 'accepted' | 'refused' | 'lost') => void;
  /** Why nobody was let in. */
  readonly trouble: () => Trouble;
  /** Adds what went wrong with the credential now on offer. */
  readonly note: (words: string) => void;
}

interface State {
  readonly rest: Candidate[];
  readonly tried: Offer[];
  readonly refused: Offer[];
  readonly spent: Offer[];
  readonly troubles: Trouble[];
  readonly notes: string[];
  readonly ids: Set<string>;
  server: readonly string[];
  onOffer: Offer | undefined;
  ended: boolean;
}

/** Begins a login. Nothing is offered before the server has said what it takes. */
export function createLogin(options: LoginOptions): Login {
  const state: State = {
    rest: [...options.candidates],
    tried: [],
    refused: [],
    spent: [],
    troubles: [],
    notes: [],
    ids: new Set(),
    server: [],
    onOffer: undefined,
    ended: false,
  };
  return {
    next: (left, partial) => nextMethod(state, options, { left, partial }),
    end: (how) => endLogin(state, options.ledger, how),
    trouble: () => whyNot(state, options),
    note: (words) => {
      if (!state.notes.includes(words)) state.notes.push(words);
    },
  };
}

async function nextMethod(
  state: State,
  options: LoginOptions,
  reply: { readonly left: readonly string[] | null; readonly partial: boolean },
): Promise<AnyAuthMethod | false> {
  // Asking with no credential at all tells what the server takes; servers count it as nothing.
  if (reply.left === null) return { type: 'none', username: options.user };
  state.server = reply.left;
  if (reply.partial) acceptPartly(state, options.ledger);
  else if (state.onOffer !== undefined) state.refused.push(state.onOffer);
  while (state.tried.length < offersPerLoginMax && !state.ended) {
    const offer = await nextOffer(state, options);
    if (offer === undefined) break;
    release(state, options.ledger);
    // A wait for what other nodes say of the credential is not this node's time.
    if (!(await options.hold(options.ledger.ask(offer.id, options.signal)))) {
      if (!options.signal.aborted) state.spent.push(offer);
      continue;
    }
    // The connection may have been lost while the ledger made this one wait.
    if (state.ended) {
      options.ledger.tell(offer.id, 'unanswered');
      break;
    }
    state.onOffer = offer;
    state.tried.push(offer);
    return methodFor(offer, state, options.user);
  }
  endLogin(state, options.ledger, 'refused');
  return false;
}

async function nextOffer(state: State, options: LoginOptions): Promise<Offer | undefined> {
  for (;;) {
    const candidate = state.rest.shift();
    if (candidate === undefined || state.ended) return undefined;
    if (!takes(state.server, candidate.method)) continue;
    const prepared = await options.hold(candidate.prepare());
    if (prepared.is === 'unusable') state.troubles.push(prepared.trouble);
    if (prepared.is !== 'ready' || state.ids.has(prepared.offer.id)) continue;
    state.ids.add(prepared.offer.id);
    return prepared.offer;
  }
}

function takes(server: readonly string[], method: Candidate['method']): boolean {
  if (method === 'publickey') return server.includes('publickey');
  return server.includes('password') || server.includes('keyboard-interactive');
}

function acceptPartly(state: State, ledger: CredentialLedger): void {
  if (state.onOffer !== undefined) ledger.tell(state.onOffer.id, 'accepted');
  state.onOffer = undefined;
}

function release(state: State, ledger: CredentialLedger): void {
  if (state.onOffer !== undefined) ledger.tell(state.onOffer.id, 'unanswered');
  state.onOffer = undefined;
}

function endLogin(state: State, ledger: CredentialLedger, how: 'accepted' | 'refused' | 'lost') {
  if (state.ended) return;
  state.ended = true;
  const last = state.onOffer;
  state.onOffer = undefined;
  if (how === 'refused' && last !== undefined && !state.refused.includes(last)) {
    state.refused.push(last);
  }
  if (how === 'refused') for (const offer of state.refused) ledger.blame(offer.id);
  if (last !== undefined) ledger.tell(last.id, how === 'accepted' ? 'accepted' : 'unanswered');
}

function methodFor(offer: Offer, state: State, username: string): AnyAuthMethod {
  const { by } = offer;
  if (by.use === 'key') return { type: 'publickey', username, key: by.key };
  if (by.use === 'agent') return { type: 'agent', username, agent: by.agent };
  if (state.server.includes('password')) {
    return { type: 'password', username, password: by.password.reveal() };
  }
  return { type: 'keyboard-interactive', username, prompt: answerPrompts(by.password, state) };
}

/** Answers one hidden prompt, once, with the password; anything else only a person could answer. */
function answerPrompts(password: Secret, state: State): KeyboardInteractiveAuthMethod['prompt'] {
  let answered = false;
  return (_name, _instructions, _language, prompts, finish) => {
    if (!answered && isPasswordPrompt(prompts)) {
      answered = true;
      finish([password.reveal()]);
      return;
    }
    const asked = prompts.map((prompt) => quoted(prompt.prompt)).slice(0, 3);
    state.notes.push(`the server asks for ${asked.join(', ')}, which needs a person`);
    finish(prompts.map(() => ''));
  };
}

function isPasswordPrompt(prompts: readonly Prompt[]): boolean {
  return prompts.length === 1 && prompts[0]?.echo !== true;
}

function whyNot(state: State, { user, where }: LoginOptions): Trouble {
  const offered = state.server.slice(0, methodsShownMax).map((method) => cleanText(method, 40));
  const server = offered.length > 0 ? offered.join(', ') : 'no method at all';
  const notes = [...state.notes, ...state.troubles.map((trouble) => trouble.seen)];
  const also = notes.length > 0 ? `; ${notes.slice(0, 3).join('; ')}` : '';
  if (state.tried.length > 0) {
    const tried = state.tried.map((offer) => offer.label).join(', ');
    return troubleOf(
      'login-refused',
      `${where} refused user ${user}: tried ${tried}; the server takes ${server}${also}`,
      `let user ${user} in with one of these, or give the node an access with another user, key or password in the intent`,
    );
  }
  const [spent] = state.spent;
  if (spent !== undefined) {
    return troubleOf(
      'credential-spent',
      `${spent.label} was refused by several nodes in this run and is not used again; ${where} was not tried`,
      'correct the credential, then run again; this keeps an account from being locked',
    );
  }
  const [first] = state.troubles;
  if (first !== undefined) return first;
  return troubleOf(
    'login-refused',
    `nothing to log in with: ${where} takes ${server} from user ${user}, and no such credential is at hand${also}`,
    'name a key: or password: in the access, or load a key into the SSH agent',
  );
}
