/** The Saltmarsh survey office, as the design shows it. */
export const exampleIntent = `intent: 1
site: Saltmarsh survey office

access:                                   # how to log in; secrets live elsewhere, by name
  hosts:    { ssh: { user: auditor } }
  switches: { snmp: { version: 3, user: auditor, auth: sha256, privacy: aes128, secret: { auth: SALTMARSH_AUTH, privacy: SALTMARSH_PRIV } } }

nodes:
  plot-1:   { at: plot-1.office.example, access: [hosts], sleeps: true, ports: { desk: { name: en7, mac: "02:00:5e:00:00:05" } } }
  vault:    { at: vault.office.example, access: [hosts] }
  quay-sw:  { at: quay-sw.office.example, access: [switches], mtuCounts: { port: header-fcs } }
  loft-sw:  { unread: switch, frame: 9216 }
  gate:     { at: gate.office.example, access: [hosts], routes: true }

segments:
  storage: { vlan: 20, mtu: 9000 }
  office:  { vlan: 1, mtu: 1500 }

links:                                    # "node:port", split at the first colon
  - { ends: [plot-1:desk, quay-sw:xg2], untagged: storage, speed: 10G, run: [cord cat6a 2 m, jack W-07, wall cat6a 21 m, panel B/12, cord cat6 2 m field-terminated, module 10GBASE-T] }
  - { ends: [vault:eth4, quay-sw:xg3], untagged: storage, speed: 10G, lag: vault-up, run: [direct-attach 3 m] }
  - { ends: [vault:eth5, "quay-sw:Port 4"], untagged: storage, speed: 10G, lag: vault-up, run: [direct-attach 3 m] }
  - { ends: [quay-sw:xg8, gate:em0], tagged: [storage, office] }

paths:
  plotting: { from: [plot-1], to: [vault], over: [storage], goodput: 9.4G }

policies: [essential, jumbo, cabling, signal]
include: [../shared-access.yaml]

waivers:
  - { rule: duplex-full, on: quay-sw:g7, until: 2027-03-31, because: label printer is 10 Mb/s half by design }
`;

/** What the example includes. */
export const sharedAccess = `access:
  printers: { snmp: { version: 2c, community: SALTMARSH_READ } }
`;

/** Policies that the tests take as shipped. */
export const shippedPolicies = ['essential', 'jumbo', 'cabling', 'signal'] as const;

/** What a node has that the intent says nothing more of. */
export const plainNode = {
  sleeps: false,
  mayBeAbsent: false,
  routes: false,
  mtuCounts: {},
  believe: [],
  identity: {},
  ports: [],
};
