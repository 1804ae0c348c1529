import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { GatewayKind, MessagingTrouble } from '../wire/messaging-health.js';

/** That something was given up stands in the health for so long: long enough for a call about it (judgement). */
const SAID_MS = 60 * MS_PER_MIN;

/** Messages that one way will never take: counted, and said for a while. */
export class GivenUp {
  private count = 0;
  private lastAtMs = Number.NEGATIVE_INFINITY;
  private last = '';

  /** @param way as it stands in a sentence: `the webhook "sms"` */
  constructor(
    private readonly way: string,
    private readonly kind: GatewayKind,
  ) {}

  note(what: string, why: string, nowMs: number): void {
    if (nowMs - this.lastAtMs > SAID_MS) this.count = 0;
    this.count += 1;
    this.lastAtMs = nowMs;
    this.last = `${what} (${why})`;
  }

  trouble(nowMs: number): MessagingTrouble {
    const many = this.count === 1 ? '1 message was' : `${this.count} messages were`;
    const sentence = `${many} given up that ${this.way} would not take, the last: ${this.last}; what stands now is on the page`;
    const isOld = this.count === 0 || nowMs - this.lastAtMs > SAID_MS;
    return { code: `${this.kind}-refused`, sentence: isOld ? undefined : sentence };
  }
}
