import { errorCode, errorText } from '../../wire/messaging-error.js';
import { withPatience } from '../patience.js';
import type { Gateway, Posted } from '../poster.js';
import type { KeptPhone } from './kept-phones.js';
import type { PushKeys } from './push-keys.js';
import type { PushService } from './push-service.js';
import { forPhones, type PushText, staysOffPhones } from './push-text.js';
import { sealedPush } from './sealed-push.js';

const ANSWER_PATIENCE_MS = 10_000;

/** The subscription is over: expired (RFC 8030 §7.3), or given up by the phone's browser. */
const GONE: ReadonlySet<number> = new Set([404, 410]);
const TOO_MANY = 429;
const SERVER_ERROR = 500;

const ADVICE: Readonly<Record<number, string>> = {
  400: 'it does not take what the house sends; set the phone up again on its page',
  401: 'it does not believe who sends; set the phone up again on its page, and give messaging.push.contact',
  403: 'it does not believe who sends; set the phone up again on its page, and give messaging.push.contact',
  413: 'the message is too long for it',
};

/** What is needed to write to a phone's push service. */
export interface PushSender {
  readonly keys: PushKeys;
  /** Whom the push service can turn to: "mailto:" or "https:" (RFC 8292 §2.1). */
  readonly contact: string;
  readonly service: PushService;
}

/** In front of what it is said of: `the push service of Anna's phone`. */
export function wayTo({ name }: Pick<KeptPhone, 'name'>): string {
  return `the push service of ${name === '' ? 'a phone without a name' : `the phone of ${name}`}`;
}

/** Posts once and says what became of it; gives up after a while, or when `ending` is aborted. Never throws. */
export async function pushTo(
  sender: PushSender,
  phone: KeptPhone,
  text: PushText,
  ending: AbortSignal,
): Promise<Posted> {
  try {
    // the push service holds the token's end against the real time, whatever clock the farm runs by
    const post = await sealedPush(sender, phone.subscription, text, Date.now());
    const status = await withPatience(ANSWER_PATIENCE_MS, ending, (signal) =>
      sender.service.post(post, signal),
    );
    if (status >= 200 && status < 300) return { is: 'taken' };
    if (GONE.has(status)) return { is: 'gone', why: `it answers ${status}: the subscription is over` };
    const advice = ADVICE[status];
    const why = `it answers ${status}${advice === undefined ? '' : `: ${advice}`}`;
    return { is: status === TOO_MANY || status >= SERVER_ERROR ? 'silent' : 'refused', why };
  } catch (cause) {
    if (cause instanceof Error && cause.name === 'TimeoutError')
      return {
        is: 'silent',
        why: `it does not answer within ${ANSWER_PATIENCE_MS / 1000} s; look at the way to the internet`,
      };
    return { is: 'silent', why: errorText(cause) || errorCode(cause) };
  }
}

/** A phone as one more way out: what waits for it is judged, tried again and given up like what waits for a webhook. */
export function phoneGateway(
  sender: PushSender,
  phone: KeptPhone,
  textOf: (message: Parameters<Gateway['post']>[0]) => PushText,
  onTaken: () => void,
): Gateway {
  return {
    id: phone.id,
    way: wayTo(phone),
    kind: 'push',
    wants: forPhones,
    staysHere: staysOffPhones,
    post: async (message, ending) => {
      const posted = await pushTo(sender, phone, textOf(message), ending);
      if (posted.is === 'taken') onTaken();
      return posted;
    },
  };
}
