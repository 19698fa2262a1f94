import snmp from 'net-snmp';
import { cleanText } from '../../facts/clean-text.ts';
import { outOfFilesCode } from '../../facts/out-of-files.ts';

/** Why one request brought nothing. */
export type FailureKind =
  | 'too-big'
  | 'error-status'
  | 'no-such-name'
  | 'empty'
  | 'timeout'
  | 'over'
  | 'clock'
  | 'user-unknown'
  | 'auth-wrong'
  | 'privacy-wrong'
  | 'level-too-low'
  | 'unsendable'
  | 'files-spent'
  | 'flood'
  | 'garbled';

/** One failed request: its kind, and words without any secret. */
export interface Failure {
  readonly kind: FailureKind;
  readonly words: string;
}

/** RFC 3416, 3: error-status of a response. */
const tooBig = 1;
const noSuchName = 2;
const authorizationError = 16;
/** Codes of the library's ResponseInvalidError. */
const couldNotDecrypt = 4;
const authFailure = 5;
const notInTimeWindow = 14;

/** The library's words for the reports of RFC 3414, 3.2. Its other texts may hold digests. */
const reports: readonly (readonly [start: string, kind: FailureKind, words: string])[] = [
  ['Unsupported Security Level', 'level-too-low', 'reports an unsupported security level'],
  ['Not In Time Window', 'clock', 'reports a message outside its time window'],
  ['Unknown User Name', 'user-unknown', 'reports an unknown user name'],
  ['Unknown Engine ID', 'clock', 'reports an unknown engine identifier'],
  ['Wrong Digest', 'auth-wrong', 'reports a wrong digest'],
  ['Decryption Error', 'privacy-wrong', 'reports a decryption error'],
];

/** What an error of the library or the socket means. Its own text is never passed on. */
export function failureOf(error: unknown): Failure {
  const { name, message, code, status } = partsOf(error);
  if (name === 'RequestTimedOutError') return { kind: 'timeout', words: 'did not answer' };
  if (name === 'RequestFailedError') return statusFailure(status);
  if (name === 'ResponseInvalidError') return invalidFailure(code, message);
  if (code === 'EUNPROTECTED') {
    return { kind: 'garbled', words: 'answered without the protection that was asked for' };
  }
  if (code === 'ENOMORE') return { kind: 'flood', words: 'wanted one request again and again' };
  const spent = outOfFilesCode(error);
  if (spent !== undefined) {
    return { kind: 'files-spent', words: `this process may have no more files open (${spent})` };
  }
  if (typeof code === 'string' && /^E[A-Z]+$/.test(code)) {
    return { kind: 'unsendable', words: `the request could not be sent (${code})` };
  }
  return { kind: 'garbled', words: 'answered with something that is not SNMP' };
}

function statusFailure(status: unknown): Failure {
  if (status === tooBig) return { kind: 'too-big', words: 'answered tooBig' };
  if (status === noSuchName) return { kind: 'no-such-name', words: 'answered noSuchName' };
  if (status === authorizationError) {
    return { kind: 'level-too-low', words: 'answered authorizationError' };
  }
  const word = typeof status === 'number' ? snmp.ErrorStatus[status] : undefined;
  return { kind: 'error-status', words: `answered ${cleanText(word ?? 'an unknown error', 40)}` };
}

function invalidFailure(code: unknown, message: string): Failure {
  if (code === notInTimeWindow) {
    return { kind: 'clock', words: 'answered with a clock that had gone back' };
  }
  if (code === couldNotDecrypt) {
    return { kind: 'privacy-wrong', words: 'answered with what the privacy key does not open' };
  }
  const report = reports.find(([start]) => message.startsWith(start));
  if (report !== undefined) return { kind: report[1], words: report[2] };
  if (code === authFailure) {
    return { kind: 'auth-wrong', words: 'answered with a digest that is not right' };
  }
  return { kind: 'garbled', words: 'answered with other objects than were asked for' };
}

function partsOf(error: unknown) {
  if (!(error instanceof Error))
    return { name: '', message: '', code: undefined, status: undefined };
  const code = 'code' in error ? error.code : undefined;
  const status = 'status' in error ? error.status : undefined;
  return { name: error.name, message: error.message, code, status };
}
