import { sitePastContract } from './site-past-contract.ts';
import { newStore } from './store.ts';

sitePastContract(newStore);
