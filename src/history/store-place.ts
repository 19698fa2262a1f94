import type { AskPassword } from './postgres-client.ts';
import { placeWords, type ServerPlace } from './server-place.ts';

/** A database on a server, and who knows the password. */
export interface ServerStore {
  readonly place: ServerPlace;
  readonly askPassword: AskPassword;
}

/** Where a store is: a file of this machine, or a server. */
export type StorePlace = string | ServerStore;

/** A place as messages name it; never with a password. */
export function storeWords(store: StorePlace): string {
  return typeof store === 'string' ? store : placeWords(store.place);
}
