import {
  type DocumentReading,
  type KeptDocument,
  readDocument,
} from '../../../../shared/base/kept-document.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import { modelDocument } from '../../../drying/whole/snapshot.js';
import type { FactStore, ReviewQueries } from '../../../monitor/ports/ports.js';
import { TURN, type Turn, turnDocument } from '../../../monitor/ports/turn.js';
import { StoreError } from '../../../store/both/store-error.js';
import { deskDocument } from '../../../watering/desk/desk-state.js';
import { rebuildFarm } from './rebuild-farm.js';

/** What a farm was when it was left: states to open it with, and what of them could not be read, a sentence each. */
export interface KeptFarm {
  readonly desk: unknown;
  readonly model: unknown;
  readonly troubles: readonly string[];
}

type Store = FactStore & ReviewQueries;

export interface Loaded<T> {
  readonly document: unknown;
  readonly reading: DocumentReading<T>;
  /** What it is called and where it lies now, when it could not be read. */
  readonly trouble?: string;
}

/** A document as it was saved; one that can't be read is set aside. */
export async function loadDocument<T>(store: Store, name: string, kept: KeptDocument<T>): Promise<Loaded<T>> {
  let document: unknown;
  let reading: DocumentReading<T>;
  try {
    document = await store.loadState(name);
    reading = readDocument(kept, document);
  } catch (cause) {
    if (!(cause instanceof StoreError && cause.code === 'garbled')) throw cause;
    reading = { outcome: 'unreadable', why: 'is not what was saved' };
  }
  if (reading.outcome !== 'unreadable') return { document, reading };
  const aside = await store.setStateAside(name);
  return {
    document,
    reading,
    trouble: `${kept.name} ${reading.why}. It was kept in the store as "${aside}"`,
  };
}

/** The last turn, to be told if it was not, and what is wrong with it. */
export async function loadTurn(
  store: Store,
): Promise<{ readonly turn?: Turn; readonly troubles: readonly string[] }> {
  const { reading, trouble } = await loadDocument(store, TURN, turnDocument);
  if (reading.outcome === 'read') return { turn: reading.value, troubles: [] };
  if (trouble === undefined) return { troubles: [] };
  return { troubles: [`${trouble}; what was decided last may not have been told: look at the page.`] };
}

/**
 * The states as they were saved, brought to this version. What can't be read is set aside and built anew from the store's events and
 * readings: the model beside a desk that can be read, else both, since they must know the same trays.
 */
export async function loadFarm(config: FarmConfig, store: Store, nowMs: number): Promise<KeptFarm> {
  const desk = await loadDocument(store, 'desk', deskDocument);
  const model = await loadDocument(store, 'model', modelDocument);
  const troubles = [desk.trouble, model.trouble].filter((trouble) => trouble !== undefined);
  const isMissing = desk.reading.outcome === 'read' && model.reading.outcome === 'none';
  if (troubles.length === 0 && !isMissing)
    return { desk: desk.document, model: model.document, troubles: [] };
  const anew = await rebuildFarm(config, store, nowMs);
  const madeOf = `built anew from ${anew.eventCount} events and ${anew.readingCount} readings`;
  return {
    desk: desk.reading.outcome === 'read' ? desk.document : anew.desk,
    model: anew.model,
    troubles: isMissing
      ? [`${modelDocument.name} was missing; it was ${madeOf}.`]
      : troubles.map((trouble) =>
          trouble.startsWith(deskDocument.name)
            ? `${trouble}, and ${madeOf}; say again who is away and which calls are set aside.`
            : `${trouble}, and ${madeOf}.`,
        ),
  };
}
