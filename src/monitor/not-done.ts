import { toInstant } from '../../shared/base/ids.js';
import { MS_PER_HOUR } from '../../shared/base/time-units.js';
import type { WatchmanHealth } from '../watering/desk/watering-desk.js';
import type { Undertaking } from '../watering/sentences/said/house-sentences.js';
import type { Fact } from './ports/facts.js';

/** What fails off and on is said no more often than this, ms (judgement: once a visit to the bench). */
const SAY_AGAIN_MS = 6 * MS_PER_HOUR;

const NOT_DONE = 'not-done';

const mayNeedSomebody: ReadonlySet<Undertaking> = new Set(['decision', 'round-notice']);

/**
 * What could not be done, and whether that stands. The desk that would call people may be what fails, so that the call for a missed
 * decision or notice is made here.
 */
export class NotDone {
  private readonly standing = new Set<Undertaking>();
  private readonly saidAtMs = new Map<Undertaking, number>();

  /** It could not be done: what is to be said of that. */
  failed(what: Undertaking, nowMs: number): readonly Fact[] {
    this.standing.add(what);
    const saidAtMs = this.saidAtMs.get(what);
    if (saidAtMs !== undefined && Math.abs(nowMs - saidAtMs) < SAY_AGAIN_MS) return [];
    this.saidAtMs.set(what, nowMs);
    const at = toInstant(nowMs);
    const own = ['notDone', what] as const;
    const note: Fact = { kind: 'note', at, by: 'monitor', said: own };
    if (!mayNeedSomebody.has(what)) return [note];
    const again = saidAtMs !== undefined;
    const said = {
      nowMs,
      kind: 'monitor',
      of: 'decisions',
      reason: NOT_DONE,
      trays: [],
      others: [],
      comingRoundMs: nowMs,
      again: false,
      own,
    } as const;
    return [
      { kind: 'call', call: { at, kind: 'monitor', trays: [], source: 'decisions', again, said } },
      note,
    ];
  }

  /** It was done: what stood of it is over. */
  done(what: Undertaking): void {
    this.standing.delete(what);
  }

  /** For the page and whoever asks; the desk is not told, since it can't say it while it fails. */
  health(): readonly WatchmanHealth[] {
    const [first] = this.standing;
    if (first === undefined) return [];
    return [{ kind: 'monitor', source: 'decisions', ok: false, reason: NOT_DONE, own: ['notDone', first] }];
  }
}
