import type { JournalEntry } from '../../../../shared/page/page-journal.js';
import type { PagePatch, PagePresent } from '../../../../shared/page/page-present.js';
import { applyPatch } from './apply-patch.js';
import type { FarmState, Store } from './farm-store.js';

/** The house gives a sign of life every 5 s; three missed ones are a lost contact. */
const SILENCE_MS = 16_000;
const REOPEN_MS = 3000;
const FRESH_LINES = 200;

interface Beat {
  readonly at: string;
  readonly clockSpeed: number;
}

/** Follows the house's events into the store, for as long as the page is open, and says when it falls silent. */
export function followHouse(store: Store<FarmState>, remember: (present: PagePresent) => void): void {
  let events: EventSource | undefined;
  let silence: ReturnType<typeof setTimeout> | undefined;
  let reopening: ReturnType<typeof setTimeout> | undefined;

  const heard = (change: Partial<FarmState>): void => {
    clearTimeout(silence);
    silence = setTimeout(lose, SILENCE_MS);
    store.set({ contact: 'live', heardAtMs: Date.now(), ...change });
    if (change.present !== undefined) remember(change.present);
  };

  const lose = (): void => {
    store.set({ contact: 'lost' });
    events?.close();
    clearTimeout(reopening);
    reopening = setTimeout(open, REOPEN_MS);
  };

  const parsed = <T>(event: Event): T => JSON.parse((event as MessageEvent<string>).data) as T;

  const open = (): void => {
    clearTimeout(reopening);
    events?.close();
    const after = store.get().present?.cursor ?? '';
    events = new EventSource(`/api/live?after=${encodeURIComponent(after)}`);
    events.addEventListener('present', (event) => heard({ present: parsed<PagePresent>(event), fresh: [] }));
    events.addEventListener('patch', (event) => {
      const { present } = store.get();
      const cursor = (event as MessageEvent<string>).lastEventId;
      if (present !== undefined) heard({ present: applyPatch(present, parsed<PagePatch>(event), cursor) });
    });
    events.addEventListener('beat', (event) => {
      const { present } = store.get();
      if (present !== undefined) heard({ present: { ...present, ...parsed<Beat>(event) } });
    });
    events.addEventListener('journal', (event) => {
      const fresh = [parsed<JournalEntry>(event), ...store.get().fresh].slice(0, FRESH_LINES);
      heard({ fresh });
    });
    events.onerror = lose;
  };

  open();
  const lookNow = (): void => {
    if (document.visibilityState === 'visible' && store.get().contact !== 'live') open();
  };
  document.addEventListener('visibilitychange', lookNow);
  window.addEventListener('online', lookNow);
  window.addEventListener('offline', lose);
}
