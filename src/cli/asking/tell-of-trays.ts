import { randomUUID } from 'node:crypto';
import type { Command } from 'commander';
import type { TrayLine } from '../../../shared/facts/tray-line.js';
import type { Answer } from '../../../shared/wire/command.js';
import { EXIT } from '../program/exit-status.js';
import { terminalDialogue } from '../terminal/dialogue/terminal-dialogue.js';
import { traysNamed } from '../terminal/typed/named-trays.js';
import { printAnswers } from './answer-command.js';
import type { TellFlags } from './reach-monitor.js';
import { type Talk, type TypedCommand, talk } from './talk.js';

/** Options of a command that may concern many trays. */
export interface ManyFlags extends TellFlags {
  readonly yes?: true;
}

/** More trays than this are named before anything is told. */
const SAID_BEFORE = 5;
const REF_LETTERS = 13;

/** Says which trays it will be, when they are many; on a terminal whoever typed it may still say no. */
export async function mayTell(
  trays: readonly { readonly id: string }[],
  { yes }: ManyFlags,
): Promise<boolean> {
  if (trays.length <= SAID_BEFORE) return true;
  console.error(`This is about ${trays.length} trays: ${trays.map(({ id }) => id).join(', ')}.`);
  if (yes === true || !process.stdin.isTTY) return true;
  const dialogue = terminalDialogue(process.stdin, process.stderr);
  const answer = (await dialogue.ask('Go on? [y/n] '))?.toLowerCase() ?? '';
  dialogue.close();
  if (answer.startsWith('y')) return true;
  console.error('Nothing was changed.');
  process.exitCode = EXIT.couldNot;
  return false;
}

/** The trays that words mean on this farm. Throws BadWord. */
export async function meantTrays(
  words: readonly string[],
  { trays, config, units }: Talk,
): Promise<readonly TrayLine[]> {
  return traysNamed(
    words,
    await trays(),
    units,
    config?.benches.map(({ id }) => id),
  );
}

/** Tells one thing of many trays at once. */
export function tellOfTrays(
  flags: ManyFlags,
  choose: (farm: Talk) => Promise<readonly TrayLine[]>,
  make: (trayIds: readonly string[]) => TypedCommand,
): Promise<void> {
  return talk(flags, async (farm) => {
    const trays = await choose(farm);
    if (await mayTell(trays, flags)) printAnswers([await farm.tell(make(trays.map(({ id }) => id)))], flags);
  });
}

/** Adds the option of a command that may concern many trays. */
export function withMany(command: Command): Command {
  return command.option(
    '--yes',
    `do not ask, however many trays it is (more than ${SAID_BEFORE} are named before)`,
  );
}

/** Tells the same of each tray that words mean. When one is refused, those before it are taken back. */
export function tellOfEach(
  words: readonly string[],
  flags: ManyFlags,
  make: (trayId: string, farm: Talk) => TypedCommand,
): Promise<void> {
  return talk(flags, async (farm) => {
    const trays = await meantTrays(words, farm);
    const [only, ...more] = trays;
    if (only !== undefined && more.length === 0)
      return printAnswers([await farm.tell(make(only.id, farm))], flags);
    if (!(await mayTell(trays, flags))) return;
    const first = flags.ref ?? `cli-${randomUUID().slice(0, REF_LETTERS)}`;
    const done: string[] = [];
    const answers: Answer[] = [];
    for (const [index, { id }] of trays.entries()) {
      const ref = `${first}-${index + 1}`;
      const answer = await farm.tell(make(id, farm), ref);
      answers.push(answer);
      if (answer.ok) {
        done.push(ref);
        continue;
      }
      for (const before of done.reverse())
        answers.push(await farm.monitor.send({ do: 'undo', undo: before }));
      break;
    }
    printAnswers(answers, flags);
  });
}
