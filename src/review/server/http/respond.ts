import type { IncomingMessage, ServerResponse } from 'node:http';
import { gzip } from 'node:zlib';

/** Smaller answers are not worth packing. */
const PACKED_FROM_BYTES = 1400;
/** How much of a body that is too large is still read. */
const MOST_LET_GO_BYTES = 16_000_000;

/** A refusal of a request: stable code, HTTP status, a sentence that says what to do. */
export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly code: string,
    sentence: string,
  ) {
    super(sentence);
    this.name = 'Refusal';
  }
}

/** Sends JSON, packed when the other side takes gzip and it is worth it. */
export function sendJson(
  request: IncomingMessage,
  response: ServerResponse,
  status: number,
  body: unknown,
): void {
  const bytes = Buffer.from(JSON.stringify(body));
  response.setHeader('Content-Type', 'application/json; charset=utf-8');
  response.setHeader('Cache-Control', 'no-store');
  const takesGzip = /\bgzip\b/.test(request.headers['accept-encoding'] ?? '');
  if (!takesGzip || bytes.length < PACKED_FROM_BYTES) {
    response.writeHead(status, { 'Content-Length': bytes.length });
    response.end(bytes);
    return;
  }
  gzip(bytes, { level: 4 }, (error, packed) => {
    if (error !== null) {
      response.destroy(error);
      return;
    }
    response.writeHead(status, { 'Content-Encoding': 'gzip', 'Content-Length': packed.length });
    response.end(packed);
  });
}

/** Sends a text that is never kept. */
export function sendText(response: ServerResponse, status: number, type: string, text: string): void {
  const bytes = Buffer.from(text);
  response.setHeader('Content-Type', type);
  response.setHeader('Cache-Control', 'no-store');
  response.writeHead(status, { 'Content-Length': bytes.length });
  response.end(bytes);
}

export function sendRefusal(request: IncomingMessage, response: ServerResponse, refusal: Refusal): void {
  sendJson(request, response, refusal.status, { code: refusal.code, sentence: refusal.message });
}

/** Reads a JSON body of at most `mostBytes`; refuses anything else. */
export async function readJson(request: IncomingMessage, mostBytes: number): Promise<unknown> {
  if (!/^application\/json\b/.test(request.headers['content-type'] ?? ''))
    throw new Refusal(415, 'not-json', 'Send it as application/json.');
  const chunks: Buffer[] = [];
  let size = 0;
  // What is too much is read on and let go, so that the sender hears the answer; without end it is cut off.
  for await (const chunk of request as AsyncIterable<Buffer>) {
    size += chunk.length;
    if (size <= mostBytes) chunks.push(chunk);
    else if (size > mostBytes + MOST_LET_GO_BYTES) request.destroy();
  }
  if (size > mostBytes)
    throw new Refusal(
      413,
      'too-large',
      `That is more than ${mostBytes} bytes; a command is a few lines, a note at most 2000 letters and a photo of 300 kB.`,
    );
  try {
    return JSON.parse(Buffer.concat(chunks).toString('utf8'));
  } catch (cause) {
    if (cause instanceof SyntaxError)
      throw new Refusal(400, 'malformed-json', `The body is not JSON: ${cause.message}.`);
    throw cause;
  }
}
