/** Realm of the lab (RFC 4120), and the domain of its hosts. */
export const realmName = 'LAB.OFFICE.EXAMPLE';
export const ticketDomain = 'lab.office.example';

/** What a host is called by whoever logs in by a ticket: it is for a name and for no address. */
export function ticketName(node: string): string {
  return `${node}.${ticketDomain}`;
}

/** Gives the path of a file of the realm by its name. */
export type RealmFile = (name: string) => string;

/**
 * The text of krb5.conf(5). No name server is asked, and nothing is written outside the folder: the
 * list of used tickets, which hosts keep, lies in it too.
 */
export function realmSettings(at: RealmFile, centreAddress: string): string {
  const lines = [
    '[libdefaults]',
    `  default_realm = ${realmName}`,
    '  dns_lookup_realm = false',
    '  dns_lookup_kdc = false',
    '  dns_canonicalize_hostname = false',
    '  rdns = false',
    `  default_rcache_name = file2:${at('used')}`,
    `  default_ccache_name = FILE:${at('nobody-tickets')}`,
    `  default_client_keytab_name = FILE:${at('nobody.keytab')}`,
    '[realms]',
    `  ${realmName} = {`,
    `    kdc = ${centreAddress}:88`,
    '  }',
    '[domain_realm]',
    `  .${ticketDomain} = ${realmName}`,
  ];
  return `${lines.join('\n')}\n`;
}

/** The text of kdc.conf(5): the database and all that belongs to it in the folder. */
export function centreSettings(at: RealmFile): string {
  const lines = [
    '[kdcdefaults]',
    '  kdc_listen = 88',
    '  kdc_tcp_listen = 88',
    '[realms]',
    `  ${realmName} = {`,
    `    database_name = ${at('principals')}`,
    `    key_stash_file = ${at('stash')}`,
    `    acl_file = ${at('nobody.acl')}`,
    '    max_life = 1h',
    '  }',
    '[logging]',
    `  default = FILE:${at('log')}`,
  ];
  return `${lines.join('\n')}\n`;
}
