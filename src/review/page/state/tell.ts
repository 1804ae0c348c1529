import type { Answer, Command } from '../../../../shared/wire/command.js';
import { AS_OF_NOW, toldAt } from '../../../../shared/wire/command-time.js';
import type { Texts } from '../texts/texts.js';
import { createStore, type Store } from './farm-store.js';
import { ownName, remember, remembered } from './remembered.js';

/**
 * sending -> done | refused | waiting | not-told; waiting -> sending, by itself when the house is back; done, waiting -> undone.
 * What happened can wait, for it says when; what counts from the moment it is told (away, seen, later) cannot.
 */
export type ToldState = 'sending' | 'done' | 'refused' | 'waiting' | 'not-told' | 'undone';

/** Something that was told, or tried, from this phone. */
export interface Told {
  readonly ref: string;
  readonly command: Command;
  /** What was pressed, in the page's words. */
  readonly label: string;
  readonly toldAtMs: number;
  /** The farm's clock when it was pressed; told again later it still happened then. */
  readonly happenedAt: string;
  readonly state: ToldState;
  /** The house's answer, or why there is none. */
  readonly sentence: string;
  /** Its press shows what became of it for as long as the hand is near. */
  readonly isInPlace?: boolean;
  /** A note's photo, for as long as it is not told: text of a `data:` address. */
  readonly photo?: string;
}

export interface ToldList {
  readonly told: readonly Told[];
}

/** As long as the house knows a command by its ref: told twice it is done once. */
const KEPT_MS = 24 * 3_600_000;
/** What was never told stays in sight for longer. */
const UNTOLD_KEPT_MS = 7 * KEPT_MS;
/** The same thing told again within this is the same press (judgement: as long as a hand stays). */
const SAME_TELLING_MS = 4000;
const ANSWER_WITHIN_MS = 10_000;
/** Nothing is there to be taken back, or the house's rules for alarms do not know the way back. */
const STAYS = new Set<Command['do']>([
  'undo',
  'acknowledge',
  'unshelve',
  'in-service',
  'test-call',
  'test-seen',
]);

type Without<T, K extends PropertyKey> = T extends unknown ? Omit<T, K> : never;
/** A command as a view makes it; `ref`, `by` are added here. */
export type Wish = Without<Command, 'ref' | 'by'>;

export interface TellMore {
  readonly isInPlace?: boolean;
  readonly photo?: string | undefined;
}

export interface Teller {
  readonly list: Store<ToldList>;
  tell(wish: Wish, label: string, more?: TellMore): Promise<Told>;
  /** Sends one again that was not told. */
  again(told: Told): Promise<Told>;
  /** Tells what waits, oldest first; ends at the first that gets no answer. */
  tellWaiting(): Promise<void>;
  undo(told: Told): Promise<Told>;
  /** Takes back what may have been told from elsewhere. */
  takeBack(ref: string, label: string): Promise<Told>;
}

function newRef(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(9));
  return `page-${Array.from(bytes, (byte) => byte.toString(36).padStart(2, '0')).join('')}`;
}

interface Reply {
  readonly state: ToldState;
  readonly sentence: string;
}

const AS_OF_NOW_NAMES: ReadonlySet<string> = new Set(AS_OF_NOW);
const canWait = (command: Command): boolean => !AS_OF_NOW_NAMES.has(command.do);

/** What was told from here before the page was closed. Sent without an answer, it is sent again: its ref keeps it from counting twice. */
function keptTold(texts: Texts): Told[] {
  return (remembered<ToldList>('told')?.told ?? []).flatMap((told): Told[] => {
    const age = Date.now() - told.toldAtMs;
    const isOpen = told.state === 'waiting' || told.state === 'sending';
    if (isOpen && age < KEPT_MS && canWait(told.command))
      return [{ ...told, state: 'waiting', sentence: texts.tell.waiting }];
    if (isOpen && age < UNTOLD_KEPT_MS) {
      const sentence = canWait(told.command) ? texts.tell.tooLate : texts.tell.interrupted;
      return [{ ...told, state: 'not-told', sentence }];
    }
    return age < (told.state === 'not-told' ? UNTOLD_KEPT_MS : KEPT_MS) ? [told] : [];
  });
}

/** Hands one command over. Only an answer of the house counts as told. */
async function handOver(command: Command, texts: Texts, photo?: string): Promise<Reply> {
  try {
    const response = await fetch('/api/command', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(photo === undefined ? command : { ...command, photo }),
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
    const { code, sentence } = (await response.json()) as Pick<Answer, 'code' | 'sentence'>;
    if (response.ok) return { state: 'done', sentence };
    const refusals: Readonly<Record<string, string>> = texts.tell.refusals;
    return { state: 'refused', sentence: refusals[code] ?? sentence };
  } catch (cause) {
    if (canWait(command)) return { state: 'waiting', sentence: texts.tell.waiting };
    const late = cause instanceof DOMException && cause.name === 'TimeoutError';
    return { state: 'not-told', sentence: late ? texts.tell.noAnswer : texts.tell.noContact };
  }
}

/** Tells the house what people did, and keeps what was told from this phone for a day, so that it can be undone. */
export function createTeller(texts: Texts, farmNowMs: () => number): Teller {
  const list = createStore<ToldList>({ told: keptTold(texts) });
  let isTellingWaiting = false;

  const put = (told: Told): Told => {
    const before = list.get().told;
    const isKnown = before.some((one) => one.ref === told.ref);
    list.set({
      told: isKnown ? before.map((one) => (one.ref === told.ref ? told : one)) : [told, ...before],
    });
    if (remember('told', list.get())) return told;
    // No room: what has no photo is remembered at least, and nothing is told later without the photo that it came with.
    remember('told', { told: list.get().told.filter(({ photo }) => photo === undefined) });
    const isOnlyHere = told.photo !== undefined && told.state === 'waiting';
    return isOnlyHere && told.sentence !== texts.tell.onlyHere
      ? put({ ...told, sentence: texts.tell.onlyHere })
      : told;
  };
  const send = async (told: Told): Promise<Told> => {
    put(told);
    const reply = await handOver(told.command, texts, told.photo);
    const { photo, ...kept } = told;
    const isOpen = reply.state === 'waiting' || reply.state === 'not-told';
    return put({ ...kept, ...reply, ...(isOpen && photo !== undefined ? { photo } : {}) });
  };
  const sendLater = (told: Told): Promise<Told> =>
    send({ ...told, command: toldAt(told.command, told.happenedAt), state: 'sending', sentence: '' });
  const begin = (command: Command, label: string, isInPlace: boolean): Told => ({
    ref: command.ref ?? newRef(),
    command,
    label,
    toldAtMs: Date.now(),
    happenedAt: new Date(farmNowMs()).toISOString(),
    state: 'sending',
    sentence: '',
    isInPlace,
  });

  const undo = async (told: Told): Promise<Told> => {
    if (told.state === 'waiting') return put({ ...told, state: 'undone', sentence: texts.tell.takenBack });
    const reply = await handOver({ do: 'undo', undo: told.ref, ref: newRef() }, texts);
    return put(
      reply.state === 'done'
        ? { ...told, state: 'undone', sentence: reply.sentence }
        : { ...told, sentence: reply.sentence },
    );
  };

  return {
    list,
    tell: async (wish, label, { isInPlace = false, photo } = {}) => {
      const before = list
        .get()
        .told.find((one) => isSameWish(one.command, wish) && Date.now() - one.toldAtMs < SAME_TELLING_MS);
      if (before?.state === 'sending' || before?.state === 'done') return before;
      const by = ownName();
      const command = { ...wish, ref: newRef(), ...(by === '' ? {} : { by }) } as Command;
      return send({ ...begin(command, label, isInPlace), ...(photo === undefined ? {} : { photo }) });
    },
    again: sendLater,
    tellWaiting: async () => {
      if (isTellingWaiting) return;
      isTellingWaiting = true;
      const waiting = list.get().told.filter(({ state }) => state === 'waiting');
      for (const told of waiting.reverse()) {
        // Taken back while another was on its way.
        if (list.get().told.find(({ ref }) => ref === told.ref)?.state !== 'waiting') continue;
        if ((await sendLater(told)).state === 'waiting') break;
      }
      isTellingWaiting = false;
    },
    undo,
    takeBack: (ref, label) => {
      const own = list.get().told.find((told) => told.ref === ref && told.state === 'done');
      return own === undefined
        ? send(begin({ do: 'undo', undo: ref, ref: newRef() }, label, true))
        : undo(own);
    },
  };
}

/** Whether a command says just that, whoever sent it. */
export function isSameWish(command: Command, wish: Wish): boolean {
  const { ref: _ref, by: _by, ...said } = command;
  const { at: _at, ...told } = { at: undefined, ...said };
  const { at: __at, ...wished } = { at: undefined, ...wish };
  return JSON.stringify(told) === JSON.stringify(wished);
}

/** Whether an undo makes sense: it waits, or it was done and can be taken back. */
export function canUndo(told: Told): boolean {
  return told.state === 'waiting' || (told.state === 'done' && !STAYS.has(told.command.do));
}
