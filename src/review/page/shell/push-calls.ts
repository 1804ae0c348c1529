import type { PushAnswer, PushRequest } from '../../../../shared/wire/push.js';
import { ownName } from '../state/remembered.js';

/** Why this phone cannot be called by push as things are. */
export type WhyNot =
  | 'no-tls'
  | 'home-screen'
  | 'no-push'
  | 'denied'
  | 'no-service'
  | 'no-contact'
  | 'no-calls';

/** How this phone stands: what the house answered, or why not. */
export type Calls = { readonly answer: PushAnswer } | { readonly whyNot: WhyNot };

const ANSWER_WITHIN_MS = 15_000;

/** Those on which only a page on the home screen can be called (common practice). */
const isIphone = (): boolean =>
  /iPhone|iPad|iPod/.test(navigator.userAgent) ||
  (navigator.userAgent.includes('Macintosh') && navigator.maxTouchPoints > 1);

/** What keeps this browser from being called, whatever the house does; undefined: nothing. */
export function whyNotHere(): WhyNot | undefined {
  if (!window.isSecureContext) return 'no-tls';
  if ('serviceWorker' in navigator && 'PushManager' in window && 'Notification' in window) return undefined;
  return isIphone() ? 'home-screen' : 'no-push';
}

async function ask(request: PushRequest): Promise<Calls> {
  try {
    const response = await fetch('/api/phone', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(request),
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
    const said = (await response.json()) as PushAnswer | { readonly code: string };
    if (response.ok && 'publicKey' in said) return { answer: said };
    return { whyNot: 'code' in said && said.code === 'no-calls' ? 'no-calls' : 'no-contact' };
  } catch (cause) {
    if (!(cause instanceof TypeError || cause instanceof DOMException || cause instanceof SyntaxError))
      throw cause;
    return { whyNot: 'no-contact' };
  }
}

const worker = (): Promise<ServiceWorkerRegistration> => navigator.serviceWorker.ready;
const subscribed = async (): Promise<PushSubscription | null> =>
  (await worker()).pushManager.getSubscription();

/** True where a subscription was made for this house's key. */
function isFor(subscription: PushSubscription, publicKey: string): boolean {
  const key = subscription.options.applicationServerKey;
  if (key === null) return false;
  const text = btoa(String.fromCharCode(...new Uint8Array(key)));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '') === publicKey;
}

/** How this phone stands with the house. */
export async function lookAtCalls(): Promise<Calls> {
  const here = whyNotHere();
  if (here !== undefined) return { whyNot: here };
  return ask({ do: 'look', endpoint: (await subscribed())?.endpoint ?? '' });
}

/** Asks the browser's leave, subscribes, and tells the house. Must be called from a press: browsers ask for leave only then. */
export async function beginCalls(): Promise<Calls> {
  if ((await Notification.requestPermission()) !== 'granted') return { whyNot: 'denied' };
  const looked = await ask({ do: 'look', endpoint: '' });
  if ('whyNot' in looked) return looked;
  const { publicKey } = looked.answer;
  try {
    const { pushManager } = await worker();
    const before = await pushManager.getSubscription();
    const isGood = before !== null && isFor(before, publicKey);
    if (before !== null && !isGood) await before.unsubscribe();
    const made = isGood
      ? before
      : await pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: publicKey });
    const subscription = made.toJSON() as Extract<PushRequest, { do: 'begin' }>['subscription'];
    return await ask({ do: 'begin', subscription, name: ownName().slice(0, 40) });
  } catch (cause) {
    if (cause instanceof DOMException) return { whyNot: 'no-service' };
    throw cause;
  }
}

/** Has the house push to this phone now. */
export async function tryCalls(): Promise<Calls> {
  return ask({ do: 'try', endpoint: (await subscribed())?.endpoint ?? '' });
}

export async function endCalls(): Promise<Calls> {
  const subscription = await subscribed();
  const ended = await ask({ do: 'end', endpoint: subscription?.endpoint ?? '' });
  await subscription?.unsubscribe();
  return ended;
}
