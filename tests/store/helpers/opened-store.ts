import type { Fact } from '../../../src/monitor/ports/facts.js';
import type { FactStore, ReviewQueries } from '../../../src/monitor/ports/ports.js';

export interface OpenedStore {
  readonly store: FactStore & ReviewQueries;
  /** Makes what was kept visible to queries, when that takes more than `flush`. */
  settle(): Promise<void>;
}

/** Gives an empty store each time. */
export type OpenStore = () => Promise<OpenedStore>;

/** A fresh store that has kept these facts, visible to queries. */
export async function storeWith(open: OpenStore, facts: readonly Fact[]): Promise<OpenedStore> {
  const { store, settle } = await open();
  await store.keep(facts);
  await store.flush();
  await settle();
  return { store, settle };
}
