import { type AskPassword, postgresClient } from './postgres-client.ts';
import { type PostgresDatabase, postgresDatabase } from './postgres-database.ts';
import { isAway, serverFault } from './server-fault.ts';
import { placeWords, type ServerPlace } from './server-place.ts';

/**
 * Asked with what is wrong where a server is away: true, after a pause, to try again. It is what
 * bounds the tries.
 */
export type Patience = (seen: string) => Promise<boolean>;

/**
 * Opens a session on a server; the tables are not looked at. A server that is away is waited for as
 * long as `patience` says; absent: not at all. Throws `StoreFault`.
 */
export async function openServer(
  place: ServerPlace,
  askPassword: AskPassword,
  patience?: Patience,
): Promise<PostgresDatabase> {
  for (;;) {
    const database = postgresDatabase((onEnd) => postgresClient(place, askPassword, onEnd));
    try {
      await database.all('select 1 as here');
      return database;
    } catch (error) {
      await database.close();
      const fault = serverFault(placeWords(place), error);
      const again = isAway(error) && (await patience?.(fault.message)) === true;
      if (!again) throw fault;
    }
  }
}
