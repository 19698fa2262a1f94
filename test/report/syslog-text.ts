/** The parts of a message of RFC 5424, read by its ABNF (section 6), as a second reading. */
export interface ReadMessage {
  readonly priority: number;
  readonly at: string;
  readonly host: string;
  readonly app: string;
  readonly processId: string;
  readonly type: string;
  readonly data: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly text: string;
}

const name = String.raw`[\x21\x23-\x3c\x3e-\x5c\x5e-\x7e]{1,32}`;
const param = String.raw` ${name}="(?:[^"\\\]]|\\.)*"`;
const element = String.raw`\[${name}(?:${param})*\]`;
const message = new RegExp(
  String.raw`^<(\d{1,3})>1 (\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{1,6})?(?:Z|[+-]\d\d:\d\d)) ([\x21-\x7e]{1,255}) ([\x21-\x7e]{1,48}) ([\x21-\x7e]{1,128}) ([\x21-\x7e]{1,32}) (-|(?:${element})+)(?: ([^]*))?$`,
);

export function readMessage(wire: string): ReadMessage {
  const [, priority, at, host, app, processId, type, data, text] = message.exec(wire) ?? [];
  if (priority === undefined) throw new Error(`no message of RFC 5424: ${wire}`);
  const elements = (data ?? '').matchAll(new RegExp(String.raw`\[(${name})((?:${param})*)\]`, 'g'));
  const params = (all: string) =>
    Object.fromEntries(
      [...all.matchAll(new RegExp(String.raw` (${name})="((?:[^"\\\]]|\\.)*)"`, 'g'))].map(
        ([, key = '', value = '']) => [key, value.replaceAll(/\\(["\\\]])/g, '$1')],
      ),
    );
  return {
    priority: Number(priority),
    at: at ?? '',
    host: host ?? '',
    app: app ?? '',
    processId: processId ?? '',
    type: type ?? '',
    data: Object.fromEntries([...elements].map(([, id = '', all = '']) => [id, params(all)])),
    text: text ?? '',
  };
}

/** Frames of RFC 6587 section 3.4.1: `MSG-LEN SP SYSLOG-MSG`. */
export function readFrames(stream: Buffer): string[] {
  const messages: string[] = [];
  let at = 0;
  while (at < stream.length) {
    const blank = stream.indexOf(0x20, at);
    const length = stream.subarray(at, blank).toString('ascii');
    if (!/^[1-9][0-9]*$/.test(length)) throw new Error(`no length at octet ${at}`);
    const end = blank + 1 + Number(length);
    if (end > stream.length) throw new Error('a frame is cut off');
    messages.push(stream.subarray(blank + 1, end).toString('utf8'));
    at = end;
  }
  return messages;
}
