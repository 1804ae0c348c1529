import type { IncomingMessage, ServerResponse } from 'node:http';

/** Events kept for pages that come back after a gap. */
const KEPT_EVENTS = 500;
/** Pages that may listen at once; a farm has a handful of phones. */
const MOST_LISTENERS = 64;
/** A listener that has let this much pile up is cut off; it comes back and resumes. */
const MOST_UNREAD_BYTES = 1_000_000;

interface KeptEvent {
  readonly sequence: number;
  readonly text: string;
}

/**
 * Server-sent events with resume. A page hands back the id of the last event it saw (`Last-Event-ID`, or `after`);
 * it gets what came since, or, when that is no longer kept or another process spoke, a fresh picture.
 */
export class LiveStream {
  readonly #listeners = new Set<ServerResponse>();
  readonly #kept: KeptEvent[] = [];
  #sequence = 0;

  constructor(
    /** Differs at every start, so that ids of an earlier process are not taken for ours. */
    private readonly run: string,
    private readonly freshPicture: () => string,
  ) {}

  cursor(): string {
    return `${this.run}.${this.#sequence}`;
  }

  listenerCount(): number {
    return this.#listeners.size;
  }

  /** Tells every page; `data` is one line of JSON. */
  tell(event: 'patch' | 'journal', data: string): void {
    this.#sequence += 1;
    const text = `id: ${this.cursor()}\nevent: ${event}\ndata: ${data}\n\n`;
    this.#kept.push({ sequence: this.#sequence, text });
    if (this.#kept.length > KEPT_EVENTS) this.#kept.shift();
    this.#write(text);
  }

  /** A sign of life with the farm's clock; not kept. */
  beat(data: string): void {
    this.#write(`event: beat\ndata: ${data}\n\n`);
  }

  open(request: IncomingMessage, response: ServerResponse, after: string | undefined): boolean {
    if (this.#listeners.size >= MOST_LISTENERS) return false;
    response.writeHead(200, {
      'Content-Type': 'text/event-stream; charset=utf-8',
      'Cache-Control': 'no-store',
      Connection: 'keep-alive',
      'X-Accel-Buffering': 'no',
    });
    request.socket.setNoDelay(true);
    response.write(`retry: 2000\n\n${this.#missedSince(after)}`);
    this.#listeners.add(response);
    response.on('close', () => this.#listeners.delete(response));
    return true;
  }

  close(): void {
    for (const response of this.#listeners) response.end();
    this.#listeners.clear();
  }

  #missedSince(after: string | undefined): string {
    const [run, sequenceText] = after?.split('.') ?? [];
    const sequence = Number(sequenceText);
    const oldest = this.#kept[0]?.sequence ?? this.#sequence + 1;
    const known = run === this.run && Number.isInteger(sequence) && sequence <= this.#sequence;
    if (known && sequence + 1 >= oldest)
      return this.#kept
        .filter((event) => event.sequence > sequence)
        .map((event) => event.text)
        .join('');
    const picture = this.freshPicture();
    return `id: ${this.cursor()}\nevent: present\ndata: ${picture}\n\n`;
  }

  #write(text: string): void {
    for (const response of this.#listeners) {
      if (response.writableLength > MOST_UNREAD_BYTES) response.destroy();
      else response.write(text);
    }
  }
}
