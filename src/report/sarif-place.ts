import type { Place } from '../facts/subject.ts';
import type { Finding } from '../judge/types.ts';
import { clean } from './layout.ts';

/** A place in a file as a SARIF physical location (SARIF 2.1.0, 3.29). */
export function sarifPlace({ file, line, column }: Place) {
  return {
    artifactLocation: { uri: fileUri(file) },
    region: { startLine: line, startColumn: column },
  };
}

/** Where a result is: the line that declares its subject, and the subject by its name. */
export function sarifLocations({ kind, id }: Finding['subject'], declaredAt: Place | undefined) {
  const name = clean(id) || '-';
  return [
    {
      ...(declaredAt === undefined ? {} : { physicalLocation: sarifPlace(declaredAt) }),
      logicalLocations: [{ name, fullyQualifiedName: `${kind}/${name}`, kind }],
    },
  ];
}

/** A file as a URI reference (RFC 3986): relative as it is written, absolute with its scheme. */
function fileUri(file: string): string {
  const path = clean(file).split('/').map(encodeURIComponent).join('/');
  return path.startsWith('/') ? `file://${path}` : path;
}
