import { withPatience } from '../patience.js';
import type { Posted } from '../poster.js';
import { webhookHeaders } from './webhook-signature.js';
import { refusalWords, silenceWords } from './webhook-trouble.js';

const ANSWER_PATIENCE_MS = 10_000;

export interface Post {
  readonly url: string;
  readonly key: Uint8Array;
  readonly id: string;
  readonly atMs: number;
  readonly body: string;
}

/** Posts once, signed, and gives up after a while, or when `ending` is aborted. Never throws. */
export async function post({ url, key, id, atMs, body }: Post, ending: AbortSignal): Promise<Posted> {
  const headers = webhookHeaders(key, id, Math.floor(atMs / 1000), body);
  try {
    const answer = await withPatience(ANSWER_PATIENCE_MS, ending, (signal) =>
      fetch(url, {
        method: 'POST',
        headers: { 'content-type': 'application/json', ...headers },
        body,
        redirect: 'manual',
        signal,
      }),
    );
    await answer.body?.cancel();
    if (answer.ok) return { is: 'taken' };
    return { is: 'refused', why: refusalWords(answer.status, answer.headers.get('location')) };
  } catch (cause) {
    return { is: 'silent', why: silenceWords(cause, ANSWER_PATIENCE_MS) };
  }
}
