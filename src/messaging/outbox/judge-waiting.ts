import { MS_PER_DAY, MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import type { ToldAlarm, ToldNotice } from '../../watering/sentences/said/told.js';
import type { WaitingCall } from './call-truth.js';
import type { Outbox, WaitingMessage } from './outbox.js';
import { waitingCallAfter } from './waiting-call.js';

/** A test call that waited longer tells nobody anything. */
const TEST_LIFE_MS = 10 * MS_PER_MIN;
/** A notice is of use until this long after its round began (judgement: a round is walked within two hours). */
const ROUND_LIFE_MS = 2 * MS_PER_HOUR;
/** Whether a tray was watered is asked for so long: commands tell of the last day. */
const ASK_LIFE_MS = MS_PER_DAY;

/** A probe shows a pour up to so long after it: a notice in between did not know of it (110 min, as measured for detected pours). */
const SHOWN_LATE_MS = 2 * MS_PER_HOUR;

/** By what a waiting message is judged. */
export interface Judging {
  /** The farm's clock. */
  readonly nowMs: number;
  readonly wallNowMs: number;
}

/** By sequence number: another text, or null where the message is not sent. */
type Changes = Map<number, string | null>;

/** A notice or question that waits: its record, and its sentence where that goes by itself. */
interface About<Body> {
  readonly seq: number;
  readonly id: string;
  sentenceSeq?: number;
  readonly sent: Body;
  /** Without the trays that were watered or are gone since. */
  left: Body;
}

type Notice = ToldNotice & { readonly id: string };
interface Ask {
  readonly at: string;
  readonly trays: readonly string[];
}

function keyOf({ kind, tray, bench, source }: AlarmTransition): string {
  return `${kind} ${tray ?? bench ?? source}`;
}

/** Which alarm an alarm's message is about. */
export function alarmOf(payload: string): string {
  return keyOf(JSON.parse(payload) as AlarmTransition);
}

/** Goes through what waits in the order in which it was told: each message is judged by those after it. */
class WaitingWords {
  readonly changes: Changes = new Map();
  private readonly calls: { readonly seq: number; call: WaitingCall }[] = [];
  private readonly sayCalls = new Map<string, number>();
  private readonly alarms = new Map<string, { readonly seq: number; readonly transition: ToldAlarm }>();
  private readonly notices: About<Notice>[] = [];
  private readonly asks: About<Ask>[] = [];

  constructor(private readonly by: Judging) {}

  take(message: WaitingMessage): void {
    const { seq, id, kind, payload, queuedAtMs } = message;
    const body = <Body>(): Body => JSON.parse(payload) as Body;
    switch (kind) {
      case 'test-call':
      case 'say-test':
        if (this.by.wallNowMs - queuedAtMs > TEST_LIFE_MS) this.changes.set(seq, null);
        return;
      case 'call':
        this.calls.push({ seq, call: body<WaitingCall>() });
        return;
      case 'say-call':
        this.sayCalls.set(id, seq);
        return;
      case 'round':
        this.notices.push({ seq, id, sent: body(), left: body() });
        return;
      case 'ask':
        this.asks.push({ seq, id, sent: body(), left: body() });
        return;
      case 'say-round':
      case 'say-ask': {
        const about = [...this.notices, ...this.asks].findLast((one) => one.id === id);
        if (about !== undefined) about.sentenceSeq = seq;
        // Its record has gone out: nobody knows any more what it rests on.
        else if (this.by.wallNowMs - queuedAtMs > ROUND_LIFE_MS) this.changes.set(seq, null);
        return;
      }
      case 'alarm':
        return this.alarm(seq, body<ToldAlarm>());
      case 'watering': {
        const { tray, at } = body<{ tray: string; at: string }>();
        return this.settle(tray, Date.parse(at));
      }
      case 'tray-event': {
        const { tray, event, at } = body<{ tray: string; event: string; at: string }>();
        if (event === 'ended' || event === 'potted-on') this.settle(tray, Date.parse(at));
        return;
      }
      case 'record':
      case 'clear':
    }
  }

  private alarm(seq: number, transition: ToldAlarm): void {
    const key = keyOf(transition);
    const before = this.alarms.get(key);
    // A state that another has followed is told for the record, without its words to people.
    if (before !== undefined) {
      const { said, sentence, ...record } = before.transition;
      if (said !== undefined || sentence !== undefined) this.changes.set(before.seq, JSON.stringify(record));
    }
    this.alarms.set(key, { seq, transition });
    for (const waiting of this.calls) {
      const call = waitingCallAfter(waiting.call, transition);
      if (call === undefined) continue;
      waiting.call = call;
      const text = JSON.stringify(call);
      this.changes.set(waiting.seq, text);
      const sayCall = this.sayCalls.get(call.id);
      if (sayCall !== undefined) this.changes.set(sayCall, call.over === true ? null : text);
    }
  }

  /** A tray was watered or is gone: what was said of it before then is over. */
  private settle(tray: string, atMs: number): void {
    for (const notice of this.notices)
      if (atMs >= Date.parse(notice.sent.at) - SHOWN_LATE_MS)
        notice.left = { ...notice.left, due: notice.left.due.filter((line) => line.tray !== tray) };
    for (const ask of this.asks)
      ask.left = { ...ask.left, trays: ask.left.trays.filter((id) => id !== tray) };
  }

  /** Judges by the time that it is now, when everything was taken. */
  end(): Changes {
    this.notices.forEach((notice, index) => {
      const isNewest = index === this.notices.length - 1;
      const isPast = this.by.nowMs > Date.parse(notice.sent.round) + ROUND_LIFE_MS;
      if (!isNewest || isPast) this.dropWords(notice);
      else if (notice.left.due.length < notice.sent.due.length) this.noticeAgain(notice);
    });
    for (const ask of this.asks) {
      const isPast = this.by.nowMs > Date.parse(ask.sent.at) + ASK_LIFE_MS;
      if (isPast || ask.left.trays.length === 0) this.dropWords(ask);
    }
    return this.changes;
  }

  private noticeAgain({ seq, sentenceSeq, left }: About<Notice>): void {
    const { sentence: _, ...notice } = left;
    const said = { ...left.said, nowMs: this.by.nowMs };
    this.changes.set(sentenceSeq ?? seq, JSON.stringify({ ...notice, said }));
  }

  /** Where record and sentence are one message, both. */
  private dropWords({ seq, sentenceSeq }: About<unknown>): void {
    this.changes.set(sentenceSeq ?? seq, null);
  }
}

/**
 * Judges again what waits, on whatever way: a call that a later transition made untrue is marked `over` and its sentence dropped, one
 * that became untrue for some trays is said again about the others; a notice is said without the trays that were watered or are gone
 * since, and not at all when a newer one waits or its round is over; a question that was answered, or is a day old, is not asked; a
 * state that another has followed is told without words; a test call that is no longer waited for is dropped. Where records go by
 * themselves they stay, in order.
 * @returns how many messages are not sent
 */
export function judgeWaiting(outbox: Outbox, by: Judging): number {
  if (outbox.waitingCount === 0) return 0;
  const words = new WaitingWords(by);
  for (const message of outbox.next(0, outbox.waitingCount)) words.take(message);
  const changes = words.end();
  outbox.revise(changes);
  return [...changes.values()].filter((text) => text === null).length;
}
