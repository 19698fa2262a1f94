import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { Ajv } from 'ajv';
import addFormats from 'ajv-formats';
import { beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { parseJson } from '../../src/facts/json.ts';
import { makeSbom } from '../tools/sbom.ts';

const root = resolve(import.meta.dirname, '../..');
const require = createRequire(import.meta.url);
const library = resolve(require.resolve('@cyclonedx/cyclonedx-library'), '../..');

/** A schema that the maintainers of CycloneDX publish with their library. */
function schemaOf(name: string): Record<string, unknown> {
  const path = resolve(library, `res/schema/${name}.SNAPSHOT.schema.json`);
  return z.record(z.string(), z.unknown()).parse(parseJson(readFileSync(path, 'utf8')));
}

const bill = z.object({
  metadata: z.object({ component: z.object({ name: z.string(), 'bom-ref': z.string() }) }),
  components: z.array(
    z.object({
      'bom-ref': z.string(),
      hashes: z.array(z.object({ alg: z.string() })).optional(),
      licenses: z.array(z.unknown()).optional(),
    }),
  ),
});

let text = '';
beforeAll(async () => {
  text = await makeSbom();
});

describe('the bill of materials', () => {
  it('holds to the schema of CycloneDX 1.5', () => {
    const ajv = new Ajv({ strict: false, allErrors: true });
    addFormats.default(ajv);
    // Of internationalised references, which none of ours are, RFC 3987 checks no more than RFC 3986.
    ajv.addFormat('iri-reference', true);
    ajv.addFormat('idn-email', true);
    ajv.addSchema(schemaOf('spdx'), 'http://cyclonedx.org/schema/spdx.SNAPSHOT.schema.json');
    ajv.addSchema(
      schemaOf('jsf-0.82'),
      'http://cyclonedx.org/schema/jsf-0.82.SNAPSHOT.schema.json',
    );
    const check = ajv.compile(schemaOf('bom-1.5'));
    expect([check(parseJson(text)), check.errors]).toEqual([true, null]);
    const broken = z.record(z.string(), z.unknown()).parse(parseJson(text));
    expect(check({ ...broken, bomFormat: 'other' })).toBe(false);
  });

  it('lists every package that an installation brings, and no other', () => {
    const { packages } = z
      .object({
        packages: z.record(
          z.string(),
          z.object({ version: z.string(), dev: z.boolean().optional() }),
        ),
      })
      .parse(parseJson(readFileSync(resolve(root, 'package-lock.json'), 'utf8')));
    const wanted = Object.entries(packages)
      .filter(([path, { dev }]) => path !== '' && dev !== true)
      .map(([path, { version }]) => `${path.replace(/^.*node_modules\//, '')}@${version}`);
    const { components, metadata } = bill.parse(parseJson(text));
    expect(metadata.component).toMatchObject({ name: 'hopgauge' });
    expect(components.map((each) => each['bom-ref']).sort()).toEqual(wanted.sort());
    expect(wanted.some((name) => name.startsWith('yaml@'))).toBe(true);
  });

  it('gives a SHA-512 of each, and the licence of all but those that state it in an old form', () => {
    const { components } = bill.parse(parseJson(text));
    const unhashed = components.filter(({ hashes = [] }) => hashes[0]?.alg !== 'SHA-512');
    expect(unhashed.map((each) => each['bom-ref'])).toEqual([]);
    // These have a list `licenses` in their package.json, which npm does not carry over: MIT each.
    const old = ['buildcheck', 'cpu-features', 'ssh2'];
    const unlicensed = components.filter(({ licenses = [] }) => licenses.length === 0);
    expect(unlicensed.map((each) => each['bom-ref'].replace(/@.*/, ''))).toEqual(old);
  });
});
