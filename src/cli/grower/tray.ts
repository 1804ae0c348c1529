import type { Command } from 'commander';
import { answerCommand } from '../asking/answer-command.js';
import { type ListFlags, listTrays } from '../asking/list-trays.js';
import { type TellFlags, withReach, withTelling } from '../asking/reach-monitor.js';
import type { TypedCommand } from '../asking/talk.js';
import { type ManyFlags, tellOfEach, withMany } from '../asking/tell-of-trays.js';
import { withJson } from '../terminal/json-option.js';
import { BadWord, readNumber } from '../terminal/typed/bad-word.js';
import { readSideMm } from '../terminal/typed/block-side.js';

interface SizeFlags extends TellFlags {
  readonly bench?: string;
  readonly side?: string;
  readonly count?: string;
  readonly crop?: string;
  readonly medium?: string;
  readonly sown?: string;
  readonly germinated?: string;
  readonly cover?: string;
  readonly channelDepth?: string;
  readonly trayArea?: string;
  readonly capacity?: string;
  readonly refillPoint?: string;
}

const EXAMPLES = `
Examples:
  drybell tray list                       all that stand, bench by bench
  drybell tray new celery-2 --bench south --side mini --crop celery --sown "2h ago"
  drybell tray cover celery-2 loose-dome
  drybell tray germinated celery-2 --by anna
  drybell tray uncover south              every tray of the bench; a crop or a block size does as well
  drybell tray move leek lettuce-1 north  several at once
  drybell tray pot-on celery-2 celery-3 --side 51
  drybell tray looked celery-1 3          1 dry, 2 light brown, 3 drying, 4 full, 5 saturated
  drybell undo cli-3f2a9c1e-77b0          takes back a command of the last day`;

/** Flags with a number: what the command calls it, and an example. */
const NUMBERS = [
  { flag: 'count', key: 'blockCount', example: '72' },
  { flag: 'channelDepth', key: 'channelDepthMm', example: '12' },
  { flag: 'trayArea', key: 'trayAreaM2', example: '0.16' },
  { flag: 'capacity', key: 'containerCapacityM3PerM3', example: '0.62' },
  { flag: 'refillPoint', key: 'refillPointM3PerM3', example: '0.37' },
] as const;

/** What is said of a tray beside its name. */
function sizeOf(flags: SizeFlags): object {
  const numbers = NUMBERS.flatMap(({ flag, key, example }) => {
    const text = flags[flag];
    const name = `--${flag.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
    return text === undefined ? [] : [[key, readNumber(text, name, example)]];
  });
  return {
    ...(flags.side === undefined ? {} : { blockSideMm: readSideMm(flags.side) }),
    ...Object.fromEntries(numbers),
    ...(flags.bench === undefined ? {} : { bench: flags.bench }),
    ...(flags.crop === undefined ? {} : { crop: flags.crop }),
    ...(flags.medium === undefined ? {} : { medium: flags.medium }),
    ...(flags.cover === undefined ? {} : { cover: flags.cover }),
  };
}

function withSize(command: Command): Command {
  return withTelling(command)
    .option('--bench <id>', 'bench it stands on')
    .option('--side <size>', 'mini, a side in mm such as 38, or in inches such as 2in')
    .option(
      '--count <blocks>',
      'blocks on the tray; the usual number when absent (mini 280, 38 mm 72, 51 mm 48)',
    )
    .option('--crop <name>')
    .option('--medium <name>')
    .option('--cover <kind>', 'none, film, loose-dome or tight-dome')
    .option('--channel-depth <mm>', 'how deep one pour may stand: lip or channel; 12 mm when absent')
    .option('--tray-area <m2>', 'inside area of the tray; 14 x 18 in when absent')
    .option('--capacity <m3/m3>', 'water content when watered and drained; learned when absent')
    .option('--refill-point <m3/m3>', 'water content at which it must be watered; learned when absent')
    .addHelpText('after', EXAMPLES);
}

function registerList(tray: Command): void {
  withJson(
    withReach(
      tray
        .command('list [which...]')
        .description(
          'All trays that stand, bench by bench: blocks, cover, probe, last watering, what is left.',
        ),
    ),
    'tray-list',
  )
    .addHelpText(
      'after',
      '\nExamples:\n  drybell tray list\n  drybell tray list south mini          only these\n  drybell tray list --broker mqtt://127.0.0.1:1883 --json',
    )
    .action((which: string[], flags: ListFlags) => listTrays(which, flags));
}

function registerWithSize(tray: Command): void {
  withSize(tray.command('new <tray>').description('A tray comes into the house.'))
    .option('--sown <time>', 'when it was sown')
    .option('--germinated <time>', 'when it germinated')
    .action((id: string, flags: SizeFlags) =>
      answerCommand(flags, (moment) => ({
        do: 'new-tray',
        tray: id,
        ...sizeOf(flags),
        ...(flags.sown === undefined ? {} : { sownAt: moment(flags.sown, 'past') }),
        ...(flags.germinated === undefined ? {} : { germinatedAt: moment(flags.germinated, 'past') }),
      })),
    );
  withSize(
    tray.command('pot-on <tray> <to-tray>').description('Its blocks go into larger blocks on another tray.'),
  ).action((id: string, toTray: string, flags: SizeFlags) =>
    answerCommand(flags, () => ({ do: 'pot-on', tray: id, toTray, ...sizeOf(flags) })),
  );
}

interface ShortCommand {
  readonly name: string;
  /** What stands after the trays, if anything does. */
  readonly last?: string;
  /** Only one tray can be meant. */
  readonly one?: true;
  /** What may stand after the command's name. */
  readonly example: string;
  readonly says: string;
  readonly make: (word: string) => TypedCommand;
}

/** Commands that need trays and at most one word more. */
const SHORT: readonly ShortCommand[] = [
  { name: 'sown', example: 'leek-1 --at "2h ago"', says: 'It was sown.', make: () => ({ do: 'sown' }) },
  {
    name: 'germinated',
    example: 'celery-1 celery-2 --by anna',
    says: 'It has germinated.',
    make: () => ({ do: 'germinated' }),
  },
  {
    name: 'cover',
    last: 'kind',
    example: 'leek-1 loose-dome',
    says: 'It was covered: film, loose-dome or tight-dome.',
    make: (cover) => ({ do: 'cover', cover }),
  },
  {
    name: 'uncover',
    example: 'south',
    says: 'The cover came off.',
    make: () => ({ do: 'cover', cover: 'none' }),
  },
  {
    name: 'move',
    last: 'bench',
    example: 'lettuce north',
    says: 'It stands on another bench.',
    make: (bench) => ({ do: 'move', bench }),
  },
  {
    name: 'looked',
    last: 'level',
    example: 'celery-1 3',
    says: 'How its blocks look: 1 dry to 5 saturated.',
    make: (level) => ({ do: 'looked', level: readNumber(level, 'level', '3') }),
  },
  {
    name: 'weighed',
    last: 'grams',
    one: true,
    example: 'celery-1 2140',
    says: 'What tray and blocks weigh together, g.',
    make: (grams) => ({ do: 'weighed', grams: readNumber(grams, 'grams', '2140') }),
  },
  {
    name: 'ready',
    example: 'celery-1 --at 13:40',
    says: 'It is ready for water now; teaches the refill point.',
    make: () => ({ do: 'ready-for-water' }),
  },
  {
    name: 'attach',
    last: 'probe',
    one: true,
    example: 'leek-1 moist-lettuce',
    says: 'A moisture probe or scale belongs to this tray now.',
    make: (probe) => ({ do: 'attach', probe }),
  },
  { name: 'end', example: 'tomato-1', says: 'It leaves the house.', make: () => ({ do: 'end' }) },
];

function registerShort(tray: Command, { name, last, one, example, says, make }: ShortCommand): void {
  const command = withTelling(tray.command(name).description(says));
  command.addHelpText('after', `\nExample:\n  drybell tray ${name} ${example}`);
  if (one === true) {
    command.argument('<tray>').argument(`<${last}>`);
    command.action((id: string, word: string, flags: TellFlags) =>
      answerCommand(flags, () => ({ ...make(word), tray: id })),
    );
    return;
  }
  withMany(command).argument('<which...>', 'trays, benches, crops or block sizes');
  command.usage(`[options] <which...>${last === undefined ? '' : ` <${last}>`}`);
  command.action(async (words: string[], flags: ManyFlags) => {
    const which = last === undefined ? words : words.slice(0, -1);
    if (which.length === 0)
      throw new BadWord(`Say which trays, then the ${last}: drybell tray ${name} ${example}`);
    await tellOfEach(which, flags, (id) => ({ ...make(words.at(-1) ?? ''), tray: id }));
  });
}

/** `drybell tray …`: what happens to a tray. */
export function register(program: Command): void {
  const tray = program
    .command('tray')
    .description(
      'List the trays; tell what happens to one or many: new, sown, cover, germinated, move, pot-on, end ...',
    )
    .addHelpText('after', EXAMPLES);
  registerList(tray);
  registerWithSize(tray);
  for (const short of SHORT) registerShort(tray, short);
}
