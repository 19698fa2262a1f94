import { nightsContract } from './nights-contract.ts';
import { newStore } from './store.ts';

nightsContract(newStore);
