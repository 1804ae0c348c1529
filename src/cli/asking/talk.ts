import type { TrayLine } from '../../../shared/facts/tray-line.js';
import type { Answer, CommandName } from '../../../shared/wire/command.js';
import { readCommand } from '../../messaging/commands/read-command.js';
import { MessagingError } from '../../messaging/wire/messaging-error.js';
import { BadWord } from '../terminal/typed/bad-word.js';
import { readMoment } from '../terminal/typed/read-moment.js';
import { typedName } from '../terminal/typed/typed-name.js';
import { farmNowMs, type ReachedFarm, reachMonitor, type TellFlags } from './reach-monitor.js';

/** A command as it was typed, not checked yet. */
export type TypedCommand = { readonly do: CommandName } & Readonly<Record<string, unknown>>;

/** Reads a time on the farm's clock, which is looked at only for that. Rejects with BadWord. */
export type ReadTyped = (text: string, side: 'past' | 'future') => Promise<string>;

/** A conversation with the monitor. */
export interface Talk extends ReachedFarm {
  readonly moment: ReadTyped;
  /** Sends one command with who says it and when. Throws BadWord for one that cannot be. */
  tell(typed: TypedCommand, ref?: string): Promise<Answer>;
  /** All trays that stand. */
  trays(): Promise<readonly TrayLine[]>;
}

/** Reaches the monitor once for everything that `run` says to it. */
export async function talk<T>(flags: TellFlags, run: (talk: Talk) => Promise<T>): Promise<T> {
  const farm = await reachMonitor(flags);
  try {
    let nowMs: Promise<number> | undefined;
    const moment: ReadTyped = async (text, side) => {
      nowMs ??= farmNowMs(farm);
      return readMoment(text, side, await nowMs, farm.timeZone);
    };
    return await run({
      ...farm,
      moment,
      async tell(typed, ref = flags.ref) {
        const read = readCommand(
          JSON.stringify({
            ...typed,
            ...(flags.by === undefined ? {} : { by: flags.by }),
            ...(flags.at === undefined ? {} : { at: await moment(flags.at, 'past') }),
            ...(ref === undefined ? {} : { ref }),
          }),
          undefined,
          (field) => typedName(typed.do, field),
        );
        if (!read.ok) throw new BadWord(read.sentence);
        return await farm.monitor.send(read.command);
      },
      async trays() {
        const { ok, sentence, trays } = await farm.monitor.send({ do: 'list-trays' });
        if (!ok || trays === undefined) throw new MessagingError('no-answer', sentence);
        return trays;
      },
    });
  } finally {
    await farm.monitor.close();
  }
}
