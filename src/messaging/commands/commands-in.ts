import { randomUUID } from 'node:crypto';
import type { IPublishPacket } from 'mqtt';
import { toInstant } from '../../../shared/base/ids.js';
import type { Command } from '../../../shared/wire/command.js';
import { toldAt } from '../../../shared/wire/command-time.js';
import type { FarmTopics } from '../../../shared/wire/topics.js';
import { Lane } from '../../host/doors/lane.js';
import type { ToldAnswer } from '../../watering/sentences/said/told.js';
import type { MessagingLog } from '../wire/messaging-log.js';
import type { CommandInbox, KnownCommand } from './command-inbox.js';
import { isRef, MAX_COMMAND_BYTES, readCommand } from './read-command.js';

/** Commands taken at once, and how many a second after that: twice what the own broker lets through (lanes). */
const INTAKE = { burst: 200, perS: 20 };
/** A redelivered command without a ref is known by its text for this long. */
const TWIN_MS = 120_000;

export type CommandListener = (command: Command, ref: string) => void;

export interface CommandsInOptions {
  readonly topics: FarmTopics;
  readonly inbox: CommandInbox;
  /** Farm clock. */
  readonly nowMs: () => number;
  readonly wallNowMs: () => number;
  /** Elapsed time. */
  readonly monotonicMs: () => number;
  readonly answer: (answer: ToldAnswer) => void;
  readonly log: MessagingLog;
}

/** Reads what people send, answers what cannot be done, and hands each good command over once. */
export class CommandsIn {
  readonly #options: CommandsInOptions;
  readonly #lane: Lane;
  #listener: CommandListener | undefined;

  constructor(options: CommandsInOptions) {
    this.#options = options;
    this.#lane = new Lane(INTAKE, options.monotonicMs);
  }

  /** Takes no more; what was not taken the broker hands over again. */
  stop(): void {
    this.#lane.stop();
  }

  /** Commands that came in before a crash and were not answered come first, with the time they came in. */
  listen(listener: CommandListener): void {
    this.#listener = listener;
    for (const { ref, payload, receivedAtMs } of this.#options.inbox.unanswered()) {
      const read = readCommand(payload, undefined);
      if (read.ok) listener(toldAt(read.command, toInstant(receivedAtMs)), ref);
      else this.#refuse(ref, read.code, read.sentence);
    }
  }

  /**
   * False: the topic is not a command's. Calls `done` when the command is on the disk and may be acknowledged: of a flood the broker keeps
   * what is too much until it is its turn.
   */
  take(packet: IPublishPacket, done: () => void): boolean {
    const { topics } = this.#options;
    if (packet.topic !== topics.command && !packet.topic.startsWith(`${topics.command}/`)) return false;
    if (packet.payload.length === 0) done();
    else
      this.#lane.pass(1, () => {
        this.#takeOne(packet);
        done();
      });
    return true;
  }

  #takeOne(packet: IPublishPacket): void {
    const { topics } = this.#options;
    const topicRef =
      packet.topic === topics.command ? undefined : packet.topic.slice(topics.command.length + 1);
    if (topicRef !== undefined && !isRef(topicRef)) {
      const ref = topicRef.replace(/[^A-Za-z0-9_-]/g, '-').slice(0, 40) || '-';
      this.#refuse(
        ref,
        'bad-ref',
        `"${topicRef}" in the topic: expected 1 to 40 letters, digits, "-" or "_".`,
      );
    } else this.#takeText(packet, topicRef);
  }

  #takeText(packet: IPublishPacket, topicRef: string | undefined): void {
    const { inbox, wallNowMs } = this.#options;
    const bytes = packet.payload.length;
    if (bytes > MAX_COMMAND_BYTES) {
      const sentence = `${bytes} bytes are too many: a command has at most ${MAX_COMMAND_BYTES}.`;
      this.#refuse(topicRef ?? newRef(), 'too-large', sentence);
      return;
    }
    const text = packet.payload.toString();
    const read = readCommand(text, topicRef);
    const chosen = topicRef ?? (read.ok ? read.command.ref : undefined);
    if (chosen === undefined && packet.dup === true && inbox.hasTwin(text, wallNowMs() - TWIN_MS)) return;
    const ref = chosen ?? newRef();
    const before = inbox.find(ref);
    if (before !== undefined) this.#again(before, text);
    else if (packet.retain)
      this.#refuse(
        ref,
        'retained',
        'A command must not be retained: it would run again and again. Send it without.',
      );
    else {
      this.#keep(ref, text);
      if (!read.ok) this.#refuse(ref, read.code, read.sentence);
      else this.#listener?.(read.command, ref);
    }
  }

  #keep(ref: string, payload: string): void {
    const { inbox, nowMs, wallNowMs, log } = this.#options;
    if (!inbox.receive({ ref, payload, receivedAtMs: nowMs() }, wallNowMs()))
      log.error({ ref }, 'command-not-kept');
  }

  /** A ref that was used before: the same text is a second delivery, another text a mistake; neither runs. */
  #again(before: KnownCommand, text: string): void {
    const { answer, wallNowMs } = this.#options;
    if (before.payload !== text) {
      this.#refuse(
        before.ref,
        'ref-used',
        `Ref "${before.ref}" was used for another command; every command needs a new one.`,
      );
    } else if (before.answer !== undefined) {
      const late = wallNowMs() - before.receivedAtWallMs > TWIN_MS;
      const sentence = `Told before, not done again (a new command needs a new ref): ${before.answer.sentence}`;
      answer(late ? { ...before.answer, sentence } : before.answer);
    }
  }

  #refuse(ref: string, code: string, sentence: string): void {
    const answer: ToldAnswer = { ref, at: toInstant(this.#options.nowMs()), ok: false, code, sentence };
    logRefusal(this.#options.log, answer);
    this.#options.answer(answer);
  }
}

/** A refusal is no fault of ours, but whoever looks for why nothing happened finds it: once, in the same words as the answer. */
export function logRefusal(log: MessagingLog, { ref, ok, code, sentence }: ToldAnswer): void {
  if (!ok) log.info({ ref, code, sentence }, 'command-refused');
}

function newRef(): string {
  return `m-${randomUUID().slice(0, 13)}`;
}
