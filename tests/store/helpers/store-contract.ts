import { factsContract } from './facts-contract.js';
import type { OpenStore } from './opened-store.js';
import { readingsContract } from './readings-contract.js';

/** What every store must do, whatever it keeps its facts in. */
export function storeContract(name: string, open: OpenStore): void {
  readingsContract(name, open);
  factsContract(name, open);
}
