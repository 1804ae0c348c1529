import type { Answer, Command } from '../../../../shared/command.js';
import { toldAt } from '../../../../shared/command-time.js';
import type { Texts } from '../texts/en.js';
import { createStore, type Store } from './farm-store.js';
import { ownName, remember, remembered } from './remembered.js';

/** sending -> done | refused | not-told; done -> undone. Nothing is sent later by itself. */
export type ToldState = 'sending' | 'done' | 'refused' | 'not-told' | 'undone';

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
}

export interface ToldList {
  readonly told: readonly Told[];
}

const KEPT_MS = 24 * 3_600_000;
/** The same thing told again within this is the same press (judgement: as long as a hand stays). */
const SAME_TELLING_MS = 4000;
const ANSWER_WITHIN_MS = 10_000;
/** Nothing is there to be taken back, or the house's rules for alarms do not know the way back. */
const STAYS = new Set<Command['do']>([
  'undo',
  'acknowledge',
  'unshelve',
  'in-service',
  'note',
  'test-call',
  'test-seen',
]);

type Without<T, K extends PropertyKey> = T extends unknown ? Omit<T, K> : never;
/** A command as a view makes it; `ref`, `by` are added here. */
export type Wish = Without<Command, 'ref' | 'by'>;

export interface Teller {
  readonly list: Store<ToldList>;
  tell(wish: Wish, label: string, isInPlace?: boolean): Promise<Told>;
  /** Sends one again that was not told. */
  again(told: Told): Promise<Told>;
  undo(told: Told): Promise<Told>;
}

function newRef(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(9));
  return `page-${Array.from(bytes, (byte) => byte.toString(36).padStart(2, '0')).join('')}`;
}

interface Reply {
  readonly state: ToldState;
  readonly sentence: string;
}

/** Hands one command over. Only an answer of the house counts as told. */
async function handOver(command: Command, texts: Texts): Promise<Reply> {
  try {
    const response = await fetch('/api/command', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(command),
      signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
    });
    const answer = (await response.json()) as Pick<Answer, 'sentence'>;
    return { state: response.ok ? 'done' : 'refused', sentence: answer.sentence };
  } catch (cause) {
    const late = cause instanceof DOMException && cause.name === 'TimeoutError';
    return { state: 'not-told', sentence: late ? texts.tell.noAnswer : texts.tell.noContact };
  }
}

/** Tells the house what people did, and keeps what was told from this phone for a day, so that it can be undone. */
export function createTeller(texts: Texts, farmNowMs: () => number): Teller {
  const kept = remembered<ToldList>('told')?.told ?? [];
  const young = kept.filter((told) => Date.now() - told.toldAtMs < KEPT_MS);
  const interrupted = young.map((told) =>
    told.state === 'sending'
      ? { ...told, state: 'not-told' as const, sentence: texts.tell.interrupted }
      : told,
  );
  const list = createStore<ToldList>({ told: interrupted });

  const put = (told: Told): Told => {
    const others = list.get().told.filter((one) => one.ref !== told.ref);
    list.set({ told: [told, ...others] });
    remember('told', list.get());
    return told;
  };
  const send = async (told: Told): Promise<Told> => {
    put(told);
    const reply = await handOver(told.command, texts);
    return put({ ...told, ...reply });
  };
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

  return {
    list,
    tell: async (wish, label, isInPlace = false) => {
      const before = list
        .get()
        .told.find((one) => isSameWish(one.command, wish) && Date.now() - one.toldAtMs < SAME_TELLING_MS);
      if (before?.state === 'sending' || before?.state === 'done') return before;
      const by = ownName();
      const command = { ...wish, ref: newRef(), ...(by === '' ? {} : { by }) } as Command;
      return send(begin(command, label, isInPlace));
    },
    again: (told) =>
      send({
        ...told,
        command: toldAt(told.command, told.happenedAt),
        state: 'sending',
        sentence: '',
      }),
    undo: async (told) => {
      const reply = await handOver({ do: 'undo', undo: told.ref, ref: newRef() }, texts);
      return put(
        reply.state === 'done'
          ? { ...told, state: 'undone', sentence: reply.sentence }
          : { ...told, sentence: reply.sentence },
      );
    },
  };
}

/** Whether a command says just that, whoever sent it. */
export function isSameWish(command: Command, wish: Wish): boolean {
  const { ref: _ref, by: _by, ...said } = command;
  return JSON.stringify(said) === JSON.stringify(wish);
}

/** Whether an undo makes sense: it was done, and it can be taken back. */
export function canUndo(told: Told): boolean {
  return told.state === 'done' && !STAYS.has(told.command.do);
}
