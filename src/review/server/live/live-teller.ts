import { toInstant } from '../../../../shared/base/ids.js';
import { spokenFact } from '../../../monitor/ports/spoken-fact.js';
import { journalEntryOf } from '../../feed/journal-entry.js';
import type { PageFeed } from '../../feed/page-feed.js';
import type { FarmPainter, FarmPicture } from './farm-picture.js';
import { LiveStream } from './live-stream.js';
import { patchBetween } from './picture-patch.js';

/** Facts of one second are told together: a phone draws once, however fast the farm's clock runs. */
const GATHER_MS = 1000;
/** Sign of life; a page that misses three says that it has no contact. */
const BEAT_MS = 5000;
/** What people did is told almost at once. */
const PROMPT_MS = 40;

const PROMPT_KINDS = new Set([
  'alarm',
  'watering',
  'tray-event',
  'tray-event-undone',
  'round-notice',
  'answer',
  'test-call',
  'test-seen',
]);

/** Turns the feed's facts into patches and journal lines for every page that listens. */
export class LiveTeller {
  readonly stream: LiveStream;
  #shown: FarmPicture;
  #pending: NodeJS.Timeout | undefined;
  #pendingIsPrompt = false;
  #beat: NodeJS.Timeout | undefined;
  #unsubscribe: (() => void) | undefined;

  constructor(
    private readonly feed: PageFeed,
    private readonly painter: FarmPainter,
    run: string,
  ) {
    this.#shown = painter.paint();
    this.stream = new LiveStream(run, () => JSON.stringify(this.picture()));
  }

  start(): void {
    this.#unsubscribe = this.feed.subscribe((fact) => {
      this.painter.take(fact);
      const { say } = this.painter.speech;
      const entry = journalEntryOf(spokenFact(fact, say), say, (ref) => this.feed.undoRule?.()(ref));
      if (entry !== undefined) this.stream.tell('journal', JSON.stringify(entry));
      this.#gather(PROMPT_KINDS.has(fact.kind));
    });
    this.#beat = setInterval(() => {
      this.#tellPatch();
      const { nowMs, clockSpeed } = this.feed.present();
      this.stream.beat(JSON.stringify({ at: toInstant(nowMs), clockSpeed }));
    }, BEAT_MS);
  }

  /** The picture as every page that follows the stream has it, brought up to date first. */
  picture(): FarmPicture & { cursor: string } {
    this.#tellPatch();
    return { ...this.#shown, at: toInstant(this.feed.present().nowMs), cursor: this.stream.cursor() };
  }

  stop(): void {
    this.#unsubscribe?.();
    clearInterval(this.#beat);
    clearTimeout(this.#pending);
    this.stream.close();
  }

  #gather(prompt: boolean): void {
    if (this.#pending !== undefined) {
      if (!prompt || this.#pendingIsPrompt) return;
      clearTimeout(this.#pending);
    }
    this.#pendingIsPrompt = prompt;
    this.#pending = setTimeout(() => this.#tellPatch(), prompt ? PROMPT_MS : GATHER_MS);
  }

  #tellPatch(): void {
    clearTimeout(this.#pending);
    this.#pending = undefined;
    this.#pendingIsPrompt = false;
    const picture = this.painter.paint();
    const patch = patchBetween(this.#shown, picture);
    this.#shown = picture;
    if (patch !== undefined) this.stream.tell('patch', JSON.stringify(patch));
  }
}
