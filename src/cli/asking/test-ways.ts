import type { TestReport } from '../../../shared/base/test-call.js';
import { MS_PER_MIN } from '../../../shared/base/time-units.js';

/** How long something took, in words: "0.02 s", "75 s", "3 min". */
export function tookWords(ms: number): string {
  if (ms < 9_950) return `${(ms / 1000).toFixed(ms < 95 ? 2 : 1)} s`;
  return ms < 120_000 ? `${Math.round(ms / 1000)} s` : `${Math.round(ms / MS_PER_MIN)} min`;
}

interface Way {
  handedOverMs?: number;
  seenMs?: number;
  seenBy?: string | undefined;
  why?: string | undefined;
}

/** What has become of a test call, way by way. */
export class TestWays {
  readonly #ways = new Map<string, Way>();
  #seenSomewhere: { readonly ms: number; readonly by: string | undefined } | undefined;

  /** Takes a report and says it in a line; undefined when it is no news. */
  take({ way, state, afterMs, by, why }: TestReport): string | undefined {
    const who = by === undefined ? '' : ` by ${by}`;
    if (way === undefined) {
      this.#seenSomewhere ??= { ms: afterMs, by };
      return `answered after ${tookWords(afterMs)}${who}, without saying by which way`;
    }
    const known = this.#ways.get(way) ?? {};
    this.#ways.set(way, known);
    switch (state) {
      case 'sent':
        return undefined;
      case 'not-taken': {
        const isNews = known.why !== why;
        known.why = why;
        return isNews ? `${way}: not taken, ${why ?? 'without a reason'}` : undefined;
      }
      case 'handed-over':
        known.handedOverMs = afterMs;
        return `${way}: handed over after ${tookWords(afterMs)}`;
      case 'seen':
        known.seenMs ??= afterMs;
        known.seenBy ??= by;
        return `${way}: answered after ${tookWords(afterMs)}${who}`;
    }
  }

  /** True when nothing more is to be waited for. */
  get isOver(): boolean {
    const ways = [...this.#ways.values()];
    const all = ways.length > 0 && ways.every(({ seenMs }) => seenMs !== undefined);
    return all || (this.#seenSomewhere !== undefined && ways.every((way) => way.handedOverMs !== undefined));
  }

  /** True when somebody answered and every way took the call. */
  get isGood(): boolean {
    const ways = [...this.#ways.values()];
    const answered = this.#seenSomewhere !== undefined || ways.some(({ seenMs }) => seenMs !== undefined);
    return answered && ways.every((way) => way.handedOverMs !== undefined || way.seenMs !== undefined);
  }

  /** Where the test stands, one line for each way. */
  lines(): readonly string[] {
    return [...this.#ways].map(([way, { handedOverMs, seenMs, seenBy, why }]) => {
      const who = seenBy === undefined ? '' : ` by ${seenBy}`;
      if (seenMs !== undefined) return `${way}: answered after ${tookWords(seenMs)}${who}`;
      if (handedOverMs !== undefined)
        return `${way}: handed over after ${tookWords(handedOverMs)}, not answered`;
      return `${way}: not handed over${why === undefined ? '' : `, ${why}`}`;
    });
  }

  /** One sentence on what is wrong and what to do, after so long; undefined when nothing is. */
  complaint(waitedMs: number): string | undefined {
    if (this.isGood) return undefined;
    const ways = [...this.#ways];
    const stuck = ways.filter(([, way]) => way.handedOverMs === undefined && way.seenMs === undefined);
    const mute = this.#seenSomewhere === undefined && ways.every(([, { seenMs }]) => seenMs === undefined);
    const within = `within ${tookWords(waitedMs)}`;
    const notTaken =
      stuck.length === 0
        ? ''
        : ` Not handed over: ${stuck.map(([way]) => way).join(', ')}; the lines above say why.`;
    return mute
      ? `Nobody answered the test call ${within}. A real call might not be heard either: look at the phones, and whether they listen to the right broker and farm.${notTaken}`
      : `Somebody answered, but not every way took the test call ${within}.${notTaken}`;
  }
}
