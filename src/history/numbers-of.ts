import type { Database } from './database.ts';

/** The numbers that stand for ports and facts in the store; made when they are new. */
export interface NumberOf {
  /** `port` is empty for the node itself. */
  readonly subject: (node: string, port: string) => Promise<number>;
  readonly fact: (name: string) => Promise<number>;
  /** Numbers many subjects at once, so that a far server is not asked for each. */
  readonly subjects: (
    list: readonly { readonly node: string; readonly port: string }[],
  ) => Promise<void>;
}

/** Reads all numbers of a site once, so that a night asks for none twice. */
export async function numbersOf(
  database: Database,
  { siteId, at }: { readonly siteId: number; readonly at: string },
): Promise<NumberOf> {
  const subjects = await known(database, siteId);
  const facts = new Map(
    (await database.all('select name, fact_id from fact')).map((row) => [
      String(row['name']),
      Number(row['fact_id']),
    ]),
  );
  const remember = async (
    map: Map<string, number>,
    key: string,
    make: () => ReturnType<Database['all']>,
  ): Promise<number> => {
    const found = map.get(key);
    if (found !== undefined) return found;
    const [row] = await make();
    const number = Number(row?.['id']);
    map.set(key, number);
    return number;
  };
  return {
    subjects: async (list) => {
      const fresh = list.filter(({ node, port }) => !subjects.has(keyOf(node, port)));
      if (fresh.length === 0) return;
      await database.each(
        `insert into subject (site_id, node, port, first_seen) values ($1, $2, $3, $4)
          on conflict (site_id, node, port) do nothing`,
        fresh.map(({ node, port }) => [siteId, node, port, at]),
      );
      for (const [key, number] of await known(database, siteId)) subjects.set(key, number);
    },
    subject: (node, port) =>
      remember(subjects, keyOf(node, port), () =>
        database.all(
          'insert into subject (site_id, node, port, first_seen) values ($1, $2, $3, $4) returning subject_id as id',
          [siteId, node, port, at],
        ),
      ),
    fact: (name) =>
      remember(facts, name, () =>
        database.all('insert into fact (name) values ($1) returning fact_id as id', [name]),
      ),
  };
}

async function known(database: Database, siteId: number): Promise<Map<string, number>> {
  const rows = await database.all('select node, port, subject_id from subject where site_id = $1', [
    siteId,
  ]);
  return new Map(
    rows.map((row) => [keyOf(String(row['node']), String(row['port'])), Number(row['subject_id'])]),
  );
}

/** No name of a node holds a line break. */
function keyOf(node: string, port: string): string {
  return `${node}\n${port}`;
}
