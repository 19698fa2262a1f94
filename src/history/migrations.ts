/**
 * The tables of the store, one list of statements for each version. A version that has been in a
 * release is never edited; a change is a new version. The SQL is what SQLite and PostgreSQL share.
 */
export const migrations: readonly (readonly string[])[] = [
  [
    'create table site (site_id integer primary key, name text not null unique)',
    `create table audit (
      audit_id integer primary key,
      site_id integer not null references site (site_id),
      started_at text not null,
      ended_at text not null,
      complete integer not null,
      met integer not null,
      broken integer not null,
      undetermined integer not null,
      waived integer not null,
      nodes_read integer not null,
      nodes_asked integer not null,
      told integer not null)`,
    'create index audit_of_site on audit (site_id, audit_id)',
    `create table node_state (
      site_id integer not null references site (site_id),
      node text not null,
      seen_at text not null,
      body blob not null,
      primary key (site_id, node))`,
    `create table subject (
      subject_id integer primary key,
      site_id integer not null references site (site_id),
      node text not null,
      port text not null,
      first_seen text not null,
      unique (site_id, node, port))`,
    'create table fact (fact_id integer primary key, name text not null unique)',
    `create table change (
      change_id integer primary key,
      audit_id integer not null references audit (audit_id),
      subject_id integer not null references subject (subject_id),
      fact_id integer not null references fact (fact_id),
      was text not null,
      became text not null,
      seen_at text not null,
      why text)`,
    'create index change_of_subject on change (subject_id, change_id)',
    'create index change_of_audit on change (audit_id)',
    `create table growth (
      audit_id integer not null references audit (audit_id),
      subject_id integer not null references subject (subject_id),
      fact_id integer not null references fact (fact_id),
      added integer not null)`,
    'create index growth_of_subject on growth (subject_id, audit_id)',
    'create index growth_of_audit on growth (audit_id)',
    `create table finding (
      life_id integer primary key,
      site_id integer not null references site (site_id),
      finding_id text not null,
      policy text not null,
      rule text not null,
      kind text not null,
      subject text not null,
      severity text not null,
      verdict text not null,
      what text not null,
      cause text not null,
      since text not null,
      last_at text not null,
      nights integer not null,
      told_at text,
      cleared_at text)`,
    'create index finding_of_subject on finding (site_id, subject, life_id)',
    'create index finding_open on finding (site_id) where cleared_at is null',
    `create table waiver_use (
      site_id integer not null references site (site_id),
      rule text not null,
      subject text not null,
      met_nights integer not null,
      primary key (site_id, rule, subject))`,
  ],
  [
    // Stretches in which something known was not read, so that no chart draws a line through them.
    `create table silence (
      silence_id integer primary key,
      subject_id integer not null references subject (subject_id),
      fact_id integer references fact (fact_id),
      seen_at text not null,
      ended_at text)`,
    'create index silence_of_subject on silence (subject_id)',
    `create table latest_audit (
      site_id integer primary key references site (site_id),
      started_at text not null,
      body blob not null)`,
  ],
  [
    // From when to when a test showed the same; its body is the latest.
    `create table proof (
      proof_id integer primary key,
      site_id integer not null references site (site_id),
      kind text not null,
      from_node text not null,
      to_node text not null,
      to_address text not null,
      started_at text not null,
      ended_at text not null,
      body text not null)`,
    'create index proof_of_way on proof (site_id, from_node, to_node, ended_at)',
  ],
];

/** The version of the tables that this program writes. */
export const storeVersion = migrations.length;
