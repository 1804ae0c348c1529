/** One server-sent event as it came over the wire. */
export interface WireEvent {
  readonly id: string;
  readonly event: string;
  readonly data: string;
}

export interface WireEvents {
  /** The next event of this kind; others that come before it are passed over. */
  next(event: string): Promise<WireEvent>;
  close(): void;
}

/** Follows a stream of server-sent events (WHATWG HTML, "Server-sent events"), as an EventSource would. */
export async function eventsOf(url: string, headers: Record<string, string> = {}): Promise<WireEvents> {
  const stop = new AbortController();
  const response = await fetch(url, { headers, signal: stop.signal });
  if (response.body === null || !response.ok) throw new Error(`the stream was refused: ${response.status}`);
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let buffer = '';
  const nextBlock = async (): Promise<string> => {
    while (!buffer.includes('\n\n')) {
      const { value, done } = await reader.read();
      if (done) throw new Error('the stream ended');
      buffer += value;
    }
    const end = buffer.indexOf('\n\n');
    const block = buffer.slice(0, end);
    buffer = buffer.slice(end + 2);
    return block;
  };
  const field = (block: string, name: string): string =>
    block
      .split('\n')
      .find((line) => line.startsWith(`${name}: `))
      ?.slice(name.length + 2) ?? '';
  return {
    next: async (event) => {
      for (;;) {
        const block = await nextBlock();
        if (field(block, 'event') === event)
          return { id: field(block, 'id'), event, data: field(block, 'data') };
      }
    },
    close: () => stop.abort(),
  };
}
