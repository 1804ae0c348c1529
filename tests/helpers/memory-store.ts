import type { Forecast } from '../../shared/facts/forecast.js';
import { isBelieved } from '../../shared/facts/reading-belief.js';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import { cutDryDown } from '../../src/drying/curves/cut-dry-down.js';
import type { DryDownSummary, KeptDryDown } from '../../src/drying/curves/kept-dry-down.js';
import type { Fact, JudgedReading } from '../../src/monitor/ports/facts.js';
import type {
  FactStore,
  KeptForecast,
  KnownProbe,
  ReviewQueries,
  Span,
  States,
} from '../../src/monitor/ports/ports.js';
import { ChartFold } from '../../src/store/both/bucket-fold.js';
import { keptDryDowns } from '../../src/store/both/curve-apart.js';
import { factAtMs, factTrayId } from '../../src/store/both/fact-index.js';
import { checkSpan } from '../../src/store/both/span.js';
import { StoreError } from '../../src/store/both/store-error.js';
import { strikeOut } from '../../src/store/both/strike-out.js';

/** The short form of a forecast, for the fan on a tray's curve. */
function toKeptForecast(forecast: Forecast): KeptForecast {
  return {
    atMs: Date.parse(forecast.at),
    trayId: forecast.tray,
    waterContentM3PerM3: forecast.waterContentM3PerM3,
    p10H: forecast.hoursToRefill.p10,
    p50H: forecast.hoursToRefill.p50,
    p90H: forecast.hoursToRefill.p90,
    driestTenthP50H: forecast.hoursToRefillDriestTenth.p50,
  };
}

interface Dated {
  readonly atMs: number;
  readonly fact: Fact;
}

/**
 * A store that forgets when the process ends: for tests. It keeps the same contract as the others. Facts
 * without a time of their own take the time of the newest fact before them.
 */
export function createMemoryStore(): FactStore & ReviewQueries {
  return new MemoryStore();
}

class MemoryStore implements FactStore, ReviewQueries {
  readonly #readings = new Map<string, JudgedReading[]>();
  #facts: Dated[] = [];
  readonly #states = new Map<string, string>();
  #newestMs = 0;
  #closed = false;

  async keep(facts: readonly Fact[], states: States = {}): Promise<boolean> {
    if (this.#closed) throw new StoreError('closed', 'Cannot keep facts: the store is closed');
    for (const [name, state] of Object.entries(states)) this.#states.set(name, JSON.stringify(state));
    for (const fact of facts) {
      const atMs = factAtMs(fact, this.#newestMs);
      this.#newestMs = Math.max(this.#newestMs, atMs);
      if (fact.kind === 'reading') this.#keepReading(fact.reading);
      else if (fact.kind === 'dry-down') this.#facts.push({ atMs, fact: this.#cut(fact) });
      else this.#facts.push({ atMs, fact });
      if (fact.kind === 'tray-event-undone' || fact.kind === 'note-undone') this.#strikeOut();
    }
    return true;
  }

  #keepReading(reading: JudgedReading): void {
    const kept = this.#readings.get(reading.probeId) ?? [];
    if (kept.length === 0) this.#readings.set(reading.probeId, kept);
    const at = firstAtOrAfter(kept, reading.observedAtMs);
    const isAgain = kept[at]?.observedAtMs === reading.observedAtMs;
    if (at === kept.length) kept.push(reading);
    else kept.splice(at, isAgain ? 1 : 0, reading);
  }

  #strikeOut(): void {
    const struck = strikeOut(this.#facts.map(({ fact }) => fact));
    this.#facts = this.#facts.map((dated, index) => ({ ...dated, fact: struck[index] ?? dated.fact }));
  }

  #cut(fact: Extract<Fact, { kind: 'dry-down' }>): Fact {
    const { dryDown } = fact;
    const events: TrayEvent[] = [];
    const course: { atMs: number; waterContentM3PerM3: number }[] = [];
    for (const { atMs, fact: kept } of this.#facts) {
      if (kept.kind === 'tray-event' && kept.undone === undefined) events.push(kept.event);
      if (kept.kind === 'forecast' && kept.forecast.tray === dryDown.trayId)
        course.push({ atMs, waterContentM3PerM3: kept.forecast.waterContentM3PerM3 });
    }
    course.sort((a, b) => a.atMs - b.atMs);
    return { kind: 'dry-down', dryDown: cutDryDown(dryDown, events, course) };
  }

  async flush(): Promise<void> {
    if (this.#closed) throw new StoreError('closed', 'Cannot flush: the store is closed');
  }

  async saveState(name: string, state: unknown): Promise<void> {
    this.#states.set(name, JSON.stringify(state));
  }

  async loadState(name: string): Promise<unknown> {
    const text = this.#states.get(name);
    return text === undefined ? undefined : JSON.parse(text);
  }

  async setStateAside(name: string): Promise<string> {
    const aside = `${name} set aside ${new Date(this.#newestMs).toISOString()}`;
    this.#states.set(aside, this.#states.get(name) ?? 'null');
    this.#states.delete(name);
    return aside;
  }

  health(): { readonly ok: boolean; readonly reason: string } {
    return { ok: true, reason: '' };
  }

  async close(): Promise<void> {
    this.#closed = true;
  }

  #readingsIn(probeId: string, span: Span): readonly JudgedReading[] {
    const kept = this.#readings.get(probeId) ?? [];
    return kept.slice(firstAtOrAfter(kept, span.fromMs), firstAtOrAfter(kept, span.toMs));
  }

  #factsIn(span: Span): readonly Fact[] {
    return this.#facts
      .filter(({ atMs }) => atMs >= span.fromMs && atMs < span.toMs)
      .sort((a, b) => a.atMs - b.atMs)
      .map(({ fact }) => fact);
  }

  async readingBuckets(probeId: string, span: Span, bucketCount: number) {
    checkSpan(span, { name: 'bucketCount', value: bucketCount });
    const chart = new ChartFold(span, bucketCount);
    for (const reading of this.#readingsIn(probeId, span))
      chart
        .at(reading.observedAtMs)
        .addReading(
          isBelieved(reading.flag, reading.flagReasons),
          reading.waterContentM3PerM3,
          reading.rawValue,
        );
    return chart.buckets();
  }

  async readings(probeId: string, span: Span, limit: number) {
    checkSpan(span, { name: 'limit', value: limit });
    return this.#readingsIn(probeId, span).slice(-limit);
  }

  async forecasts(trayId: string | undefined, span: Span) {
    checkSpan(span);
    return this.#factsIn(span).flatMap((fact) =>
      fact.kind === 'forecast' && (trayId === undefined || fact.forecast.tray === trayId)
        ? [toKeptForecast(fact.forecast)]
        : [],
    );
  }

  async dryDowns(span: Span): Promise<readonly KeptDryDown[]> {
    checkSpan(span);
    return keptDryDowns(this.#factsIn(span));
  }

  async dryDownSummaries(span: Span): Promise<readonly DryDownSummary[]> {
    return (await this.dryDowns(span)).map(({ samples: _, ...summary }) => summary);
  }

  async latestForecasts() {
    const newest = new Map(
      this.#factsIn({ fromMs: Number.NEGATIVE_INFINITY, toMs: Number.POSITIVE_INFINITY }).flatMap((fact) =>
        fact.kind === 'forecast' ? [[fact.forecast.tray, fact.forecast] as const] : [],
      ),
    );
    return [...newest.values()].sort((a, b) => (a.tray < b.tray ? -1 : 1));
  }

  async probes(): Promise<readonly KnownProbe[]> {
    return [...this.#readings]
      .flatMap(([probeId, kept]) => {
        const first = kept[0];
        const last = kept.at(-1);
        if (first === undefined || last === undefined) return [];
        const { rawUnit } = last;
        return [{ probeId, rawUnit, firstAtMs: first.observedAtMs, lastAtMs: last.observedAtMs }];
      })
      .sort((a, b) => (a.probeId < b.probeId ? -1 : 1));
  }

  async facts(kinds: readonly Fact['kind'][], span: Span, limit: number, trayId?: string) {
    checkSpan(span, { name: 'limit', value: limit });
    const wanted = new Set(kinds);
    const others = this.#factsIn(span).filter(
      (fact) => wanted.has(fact.kind) && (trayId === undefined || factTrayId(fact) === trayId),
    );
    if (!wanted.has('reading')) return others.slice(-limit);
    const readings = [...this.#readings.keys()].flatMap((probeId) =>
      this.#readingsIn(probeId, span).map((reading): Fact => ({ kind: 'reading', reading })),
    );
    return [...others, ...readings].sort((a, b) => factAtMs(a, 0) - factAtMs(b, 0)).slice(-limit);
  }
}

/** Index of the first reading at or after this instant. */
function firstAtOrAfter(readings: readonly JudgedReading[], atMs: number): number {
  const last = readings.at(-1);
  if (last === undefined || last.observedAtMs < atMs) return readings.length;
  let low = 0;
  let high = readings.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((readings[middle]?.observedAtMs ?? Number.POSITIVE_INFINITY) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
}
