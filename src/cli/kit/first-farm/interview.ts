import { ConfigError } from '../../config/load-config.js';
import type { FirstFarm } from '../../config/write-config.js';
import type { Dialogue } from '../../terminal/dialogue/dialogue.js';
import { BadWord } from '../../terminal/typed/bad-word.js';
import { type Answers, saveDraft } from './draft.js';
import { type FarmText, fittingText } from './farm-text.js';
import type { InTurn } from './kit-questions.js';
import { questions } from './questions.js';

export interface InterviewOptions {
  readonly file: string;
  readonly target: FarmText;
  /** Answers that came as options. */
  readonly given: Answers;
  /** Answers of an init that was left. */
  readonly draft: Answers;
  /** Who answers; absent: what is suggested stands. */
  readonly dialogue?: Dialogue;
  readonly nowMs: number;
  /** Looks for boards and probes, once everything else is answered. */
  readonly kit: (dialogue?: Dialogue) => Promise<readonly InTurn[]>;
}

/** Where an interview ended: with a farm, or before its end. */
export type Interviewed =
  | { readonly farm: FirstFarm; readonly left?: never }
  | { readonly left: true; readonly farm?: never };

interface Asked {
  readonly key: string;
  readonly words: string;
  readonly now: string;
  readonly read: (typed: string, farm: FirstFarm) => FirstFarm;
}

const isWrong = (cause: unknown): cause is Error => cause instanceof BadWord || cause instanceof ConfigError;

/** What is wrong with an answer, without the place in a file that is not written yet. */
function wordsOf(cause: Error): string {
  return cause instanceof ConfigError ? (cause.problems[0]?.message ?? cause.message) : cause.message;
}

/**
 * Goes through all questions. Each answer is kept at once, so that whoever leaves is asked the next one only; an answer
 * that `check` would not pass is asked again. Options are read as they come; whether they fit together is for who writes.
 * @throws BadWord for an option that can't be read
 */
export async function interview(options: InterviewOptions): Promise<Interviewed> {
  const { file, target, given, draft, dialogue, nowMs } = options;
  let farm = target.farm;
  let answers: Answers = {};

  const take = (asked: Asked, typed: string): void => {
    farm = typed === asked.now && isAsItWas(asked) ? farm : asked.read(typed, farm);
    answers = { ...answers, [asked.key]: typed };
  };
  /** Takes an answer only if it fits; the place is asked after its zone, and is not held against it. */
  const takeFitting = (asked: Asked, typed: string): void => {
    const before = { farm, answers };
    try {
      take(asked, typed);
      fittingText(target, asked.key === 'timeZone' ? { ...farm, place: undefined } : farm, file, nowMs);
    } catch (cause) {
      ({ farm, answers } = before);
      throw cause;
    }
  };
  // what stands in a configuration already is not read again: it may say more than one line can
  const isAsItWas = ({ key }: Asked): boolean => target.isThere && questions.some((one) => one.key === key);

  /** @returns false when whoever was asked has left */
  const askOne = async (asked: Asked): Promise<boolean> => {
    const option = given[asked.key];
    if (option !== undefined) {
      take(asked, option);
      return true;
    }
    const before = draft[asked.key];
    if (before !== undefined) {
      try {
        takeFitting(asked, before);
        return true;
      } catch (cause) {
        if (!isWrong(cause)) throw cause;
      }
    }
    if (dialogue === undefined) {
      take(asked, asked.now);
      return true;
    }
    for (;;) {
      const typed = await dialogue.ask(`${asked.words} [${asked.now}] `);
      if (typed === undefined) return false;
      try {
        takeFitting(asked, typed === '' ? asked.now : typed);
        saveDraft(file, answers);
        return true;
      } catch (cause) {
        if (!isWrong(cause)) throw cause;
        dialogue.say(`  ${wordsOf(cause)}`);
      }
    }
  };

  for (const { key, words, now, read } of questions)
    if (!(await askOne({ key, words: words(farm), now: now(farm), read }))) return { left: true };
  for (const inTurn of await options.kit(dialogue)) {
    const asked = inTurn(farm);
    if (asked !== undefined && !(await askOne(asked))) return { left: true };
  }
  return { farm };
}
