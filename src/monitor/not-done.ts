import { toInstant } from '../../shared/base/ids.js';
import type { Call } from '../../shared/facts/alarm.js';
import type { WatchmanHealth } from '../watering/desk/watering-desk.js';
import type { Fact } from './ports/facts.js';

/** What our own mistake can keep from being done while nobody asks for it. */
export type Undertaking = 'decision' | 'round-notice' | 'forecasts' | 'reading';

/** What fails off and on is said no more often than this, ms (judgement: once a visit to the bench). */
const SAY_AGAIN_MS = 6 * 3_600_000;

const MISTAKE = 'by a mistake of this program';
const REPORT = 'report it with the log';

const sentences: Readonly<Record<Undertaking, string>> = {
  decision: `Which trays need somebody could not be decided just now, ${MISTAKE}: look at them yourself. It is tried again every ten minutes; ${REPORT}.`,
  'round-notice': `The notice of the coming round could not be written, ${MISTAKE}: look at every tray on that round, and ${REPORT}.`,
  forecasts: `Forecasts could not be made this hour, ${MISTAKE}: those shown are older. It is tried again every hour; ${REPORT}.`,
  reading: `A reading could not be taken up, ${MISTAKE}: it is kept and shown, and forecasts go without it; ${REPORT}.`,
};

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
    const sentence = sentences[what];
    const note: Fact = { kind: 'note', at, by: 'monitor', text: sentence };
    if (!mayNeedSomebody.has(what)) return [note];
    const again = saidAtMs !== undefined;
    const call: Call = { at, kind: 'monitor', trays: [], source: 'decisions', again, sentence };
    return [{ kind: 'call', call }, note];
  }

  /** It was done: what stood of it is over. */
  done(what: Undertaking): void {
    this.standing.delete(what);
  }

  /** For the page and whoever asks; the desk is not told, since it can't say it while it fails. */
  health(): readonly WatchmanHealth[] {
    const [first] = this.standing;
    if (first === undefined) return [];
    return [
      { kind: 'monitor', source: 'decisions', ok: false, reason: 'not-done', sentence: sentences[first] },
    ];
  }
}
