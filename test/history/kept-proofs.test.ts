import { proofsContract } from './proofs-contract.ts';
import { newStore } from './store.ts';

proofsContract(newStore);
