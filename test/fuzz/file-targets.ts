import { readFileSync } from 'node:fs';
import { loadChange } from '../../src/change/load-change.ts';
import { parseSecrets } from '../../src/collect/secrets/secrets-file.ts';
import { isForHost, parseKnownHosts } from '../../src/collect/ssh/known-hosts.ts';
import { loadSurvey, saveSurvey } from '../../src/facts/saved-survey.ts';
import { faultLine } from '../../src/intent/fault.ts';
import type { Loaded } from '../../src/intent/types.ts';
import { createCelEnvironment } from '../../src/judge/cel-environment.ts';
import { loadPolicy } from '../../src/judge/load-policy.ts';
import { twoSwitches } from '../change/two-switches.ts';
import { exampleIntent, sharedAccess } from '../intent/example.ts';
import { loadFrom } from '../intent/load.ts';
import { yamlTokens } from '../intent/yaml-tokens.ts';
import { samples } from '../report/saltmarsh.ts';
import { whole } from '../report/whole.ts';
import { mutateText } from './mutate.ts';
import type { FuzzTarget } from './try-target.ts';

const cel = await createCelEnvironment();
const { intent } = twoSwitches({ hosts: 1500, switches: 1518, declared: 1500 });

const intents = [exampleIntent, readFileSync('mocks/saltmarsh/intent.yaml', 'utf8')];
/** The shipped rules, two in a file: more kinds of files, each read sooner. */
const policies = ['essential', 'jumbo', 'cabling', 'signal'].flatMap((name) => {
  const [head = '', ...rules] = readFileSync(`policies/${name}.yaml`, 'utf8').split(
    /^(?= {2}- rule:)/m,
  );
  return rules.map((rule, at) => head + rule + (rules[at + 1] ?? ''));
});
const changes = [
  'change: 1\nabout: storage to 9000\nports:\n  quay-sw:xg2: { mtu: 9216 }\nsegments: { storage: { mtu: 9000 } }\nlinks:\n  quay-sw:xg2 - plot-1:en7: { speed: 10G, negotiate: true }\n',
];
const surveys = Object.values(samples).flatMap(({ survey }) =>
  survey === undefined ? [] : [whole(saveSurvey(survey))],
);
const secrets = ['# ours\nSALT_AUTH=reeds-at-low-tide\nSALT_PRIV=samphire in june\n\nA.b-c=1\n'];
const knownHosts = [
  '# ours\nvault,198.18.20.2 ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAABAgMEBQYHCAkKCwwNDg8QERITFBUWFxgZGhscHR4f\n|1|c2FsdHNhbHRzYWx0c2FsdHM=|aGFzaGhhc2hoYXNoaGFzaGhhc2g= ssh-ed25519 AAAA\n@revoked * ssh-rsa AAAA\n@cert-authority *.office.example ssh-ed25519 AAAA\n[gate]:2222,!plot-? ecdsa-sha2-nistp256 AAAA\n',
];

const yamlPieces = [
  ...yamlTokens,
  ...['~', '<<: *a', '---\n', '...\n', '!!binary ', '010', '1.10', '.inf', 'on', 'yes'],
  ...['a: &x [*x]', 'nodes:', 'links:', 'access:', 'ends', 'rule:', 'holds:', 'when:', 'mtu: 9000'],
  ...['port.', 'path.', 'has(', '.map(x, ', '.all(x, ', '&& ', '|| ', '? 1 : 2', '"{port.id}"'],
];

/** Whether a message shows a word of a value; a name, left of the first `=`, may be shown. */
function valueShown(text: string, message: string): boolean {
  const names = text.split(/\r?\n/).map((line) => line.split('=', 1)[0] ?? '');
  return ['reeds', 'samphire', 'canary'].some(
    (word) => message.includes(word) && !names.some((name) => name.includes(word)),
  );
}

/** Of a loaded file only its faults are told as they are; what it declares is cleaned when shown. */
function told(input: string, loaded: Loaded<unknown>) {
  if (loaded.ok) return { input, gave: 'loaded' };
  if (loaded.faults.length === 0) throw new Error('refused without a fault');
  return { input, gave: loaded.faults.map(faultLine) };
}

/** What reads files of the operator's, or of whoever sends a change to them. */
export const fileTargets: readonly FuzzTarget[] = [
  {
    name: 'intent',
    tryOne: async (chance) => {
      const input = mutateText(chance, intents, yamlPieces);
      return told(
        input,
        await loadFrom({ 'a/site.yaml': input, 'shared-access.yaml': sharedAccess }, 'a/site.yaml'),
      );
    },
  },
  {
    name: 'policy',
    tryOne: (chance) => {
      const input = mutateText(chance, policies, yamlPieces);
      return told(input, loadPolicy(input, 'own.yaml', cel));
    },
  },
  {
    name: 'change',
    tryOne: (chance) => {
      const input = mutateText(chance, changes, yamlPieces);
      return told(input, loadChange(input, 'change.yaml', intent));
    },
  },
  {
    name: 'survey',
    tryOne: (chance) => {
      const input = mutateText(chance, surveys, [
        'null',
        'true',
        '"1500"',
        '1.5',
        '"facts":{',
        '[]',
      ]);
      const loaded = loadSurvey(input, 'survey.json');
      if (!loaded.ok) return { input, gave: loaded.message };
      // What was read is written again, and reads as the same.
      const saved = whole(saveSurvey(loaded.survey));
      const again = loadSurvey(saved, 'survey.json');
      if (!again.ok || whole(saveSurvey(again.survey)) !== saved) throw new Error('no round trip');
      return { input, gave: 'loaded' };
    },
  },
  {
    name: 'secrets file',
    tryOne: (chance) => {
      const input = mutateText(chance, secrets, ['=', 'A=', '#', '\r\n', 'canary-of-the-tide']);
      const read = parseSecrets('secrets', input);
      if (read.ok)
        return { input, gave: [...read.secrets.keys(), JSON.stringify([...read.secrets])] };
      if (valueShown(input, read.refusal)) throw new Error(`a value: ${read.refusal}`);
      return { input, gave: read.refusal };
    },
  },
  {
    name: 'known hosts',
    tryOne: (chance) => {
      const pieces = [
        '|1|',
        '@revoked ',
        '@cert-authority ',
        '*',
        '?',
        '!',
        ',',
        'AAAA',
        '*'.repeat(200),
      ];
      const input = mutateText(chance, knownHosts, pieces);
      const entries = parseKnownHosts('known_hosts', input);
      const matched = entries.filter((entry) => isForHost(entry, 'vault.office.example'));
      return { input, gave: [entries.length, matched.length] };
    },
  },
];
