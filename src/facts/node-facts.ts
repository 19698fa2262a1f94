import type { FactEntry, FactsOf } from './entry.ts';

/** What a reader learns of the node itself. */
export const nodeReadFacts = {
  systemKind: {
    type: 'text',
    origin: 'read',
    meaning: 'Kind of system: `linux`, `macos`, `freebsd`, `windows`, or `snmp` for an agent',
    sources: ['uname -s', 'SNMPv2-MIB sysDescr'],
  },
  systemName: {
    type: 'text',
    origin: 'read',
    meaning: "The node's own name for itself",
    absentWhen: 'the node says none',
    sources: ['uname -n', 'SNMPv2-MIB sysName'],
  },
  systemText: {
    type: 'text',
    origin: 'read',
    meaning: 'Description of system and software in its own words',
    absentWhen: 'the node says none',
    sources: ['uname -srm', 'SNMPv2-MIB sysDescr'],
  },
  osVersion: {
    type: 'text',
    origin: 'read',
    meaning: 'Version of the operating system',
    absentWhen: 'the system does not say',
    sources: ['/etc/os-release VERSION_ID', 'sw_vers -productVersion', 'freebsd-version -u'],
  },
  uptimeSeconds: {
    type: 'number',
    origin: 'read',
    varies: 'run',
    unit: 's',
    meaning: 'Seconds since the system or its agent started',
    absentWhen: 'the system does not say',
    sources: ['/proc/uptime', 'sysctl -n kern.boottime', 'SNMPv2-MIB sysUpTime'],
  },
  serviceOrder: {
    type: 'texts',
    origin: 'read',
    meaning: 'Ports in the order in which the system prefers them, where several would do',
    absentWhen: 'the system keeps no such order',
    sources: ['networksetup -listnetworkserviceorder'],
  },
  sysObjectId: {
    type: 'text',
    origin: 'read',
    meaning: "The maker's identifier of the kind of device",
    absentWhen: 'not read over SNMP',
    sources: ['SNMPv2-MIB sysObjectID'],
  },
  engineId: {
    type: 'text',
    origin: 'read',
    meaning: 'SNMP engine identifier, lower-case hexadecimal',
    absentWhen: 'not read over SNMPv3',
    sources: ['SNMP-FRAMEWORK-MIB snmpEngineID'],
  },
  engineBoots: {
    type: 'number',
    origin: 'read',
    varies: 'run',
    meaning: 'How often the SNMP engine has started since its identifier was set',
    absentWhen: 'not read over SNMP, or the agent does not say',
    sources: ['SNMP-FRAMEWORK-MIB snmpEngineBoots'],
  },
  hostKey: {
    type: 'text',
    origin: 'read',
    meaning: 'Fingerprint of the SSH host key that was verified, as `SHA256:...`',
    absentWhen: 'not read over SSH',
    sources: ['SSH key exchange (RFC 4253)'],
  },
} as const satisfies Record<string, FactEntry>;

/** What a reader learns of a node; every fact may be absent. */
export type NodeReadFacts = FactsOf<typeof nodeReadFacts>;

/** What intent and survey together say of a node. */
export const nodeDerivedFacts = {
  name: { type: 'text', origin: 'declared', meaning: 'Name in the intent', sources: ['intent'] },
  unread: {
    type: 'flag',
    origin: 'declared',
    meaning: 'True for a node that nobody logs in to',
    label: 'whether anybody logs in to it',
    sources: ['intent nodes.*.unread'],
  },
  sleeps: {
    type: 'flag',
    origin: 'declared',
    meaning: 'True for a node that may be asleep',
    sources: ['intent nodes.*.sleeps'],
  },
  mayBeAbsent: {
    type: 'flag',
    origin: 'declared',
    meaning: 'True for a node that may be away or switched off',
    sources: ['intent nodes.*.mayBeAbsent'],
  },
  declaredOsAtLeast: {
    type: 'text',
    origin: 'declared',
    meaning: 'Oldest version of its operating system that the intent accepts',
    label: 'which version of its system is declared',
    absentWhen: 'none is declared',
    sources: ['intent nodes.*.osAtLeast'],
  },
  osRecentEnough: {
    type: 'flag',
    origin: 'derived',
    meaning: 'The version of its operating system is the declared one or a later one',
    label: 'whether its system is recent enough',
    absentWhen:
      'none is declared, or the version could not be read or is not made of numbers with dots',
    sources: ['node.osVersion, node.declaredOsAtLeast'],
  },
  read: {
    type: 'flag',
    origin: 'derived',
    meaning: 'True once at least one access gave an answer',
    label: 'whether it can be read',
    absentWhen: 'no access gave an answer; the reason says which step failed',
    sources: ['readings of the survey'],
  },
  trouble: {
    type: 'text',
    origin: 'derived',
    meaning: 'What failed on the way to the node, in one line',
    absentWhen: 'nothing failed',
    sources: ['readings of the survey'],
  },
  remedy: {
    type: 'text',
    origin: 'derived',
    meaning: 'What would let the node be read',
    absentWhen: 'nothing failed',
    sources: ['readings of the survey'],
  },
  contradictions: {
    type: 'texts',
    origin: 'derived',
    meaning:
      'Signs that another machine answers at the address: host key, engine, name or MAC; empty when none was seen',
    label: 'whether it is the declared machine',
    sources: ['known_hosts, intent nodes.*.identity and ports.*.mac against the survey'],
  },
  disagreements: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Facts on which two accesses to this node disagree; empty when they agree',
    label: 'whether its accesses agree',
    absentWhen: 'fewer than two accesses were read',
    sources: ['readings of the survey'],
  },
  undeclaredLivePorts: {
    type: 'texts',
    origin: 'derived',
    meaning: 'Physical ports with link that no link of the intent names',
    label: 'which other ports have a link',
    absentWhen:
      'the node could not be read, or is in no link of the intent; where none is found, also while one of its other ports may be up',
    sources: ['survey against intent links'],
  },
  undeclaredLinks: {
    type: 'texts',
    origin: 'derived',
    meaning:
      'Declared nodes that announce themselves at ports that no link of the intent names, as `NODE:PORT - NODE:PORT`; told at one of the two nodes',
    label: 'which other declared nodes it is linked to',
    absentWhen: 'neighbours were not read, or the node is in no link of the intent',
    sources: ['LLDP (IEEE 802.1AB) against intent links'],
  },
} as const satisfies Record<string, FactEntry>;

/** All facts of a node. */
export const nodeFacts = { ...nodeReadFacts, ...nodeDerivedFacts } as const;
