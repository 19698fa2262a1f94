import { type AskPassword, postgresClient } from './postgres-client.ts';
import { type PostgresDatabase, postgresDatabase } from './postgres-database.ts';
import { serverFault } from './server-fault.ts';
import { placeWords, type ServerPlace } from './server-place.ts';

/** Opens a session on a server; the tables are not looked at. Throws `StoreFault`. */
export async function openServer(
  place: ServerPlace,
  askPassword: AskPassword,
): Promise<PostgresDatabase> {
  const database = postgresDatabase((onEnd) => postgresClient(place, askPassword, onEnd));
  try {
    await database.all('select 1 as here');
    return database;
  } catch (error) {
    await database.close();
    throw serverFault(placeWords(place), error);
  }
}
