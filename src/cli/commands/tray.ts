import type { Command } from 'commander';
import { answerCommand, withPlainErrors } from '../house/answer-command.js';
import { readNumber } from '../house/bad-word.js';
import { readSideMm } from '../house/block-side.js';
import { type ListFlags, listTrays } from '../house/list-trays.js';
import { type TellFlags, type TypedCommand, withReach, withTelling } from '../house/reach-monitor.js';

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
  withReach(
    tray
      .command('list')
      .description(
        'All trays that stand, bench by bench: blocks, cover, probe, last watering, what is left.',
      ),
  )
    .option('--json', 'as data, metric')
    .addHelpText(
      'after',
      '\nExamples:\n  drybell tray list\n  drybell tray list --broker mqtt://127.0.0.1:1883 --json',
    )
    .action((flags: ListFlags) => withPlainErrors(() => listTrays(flags)));
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
  readonly usage: string;
  /** What may stand after the command's name. */
  readonly example: string;
  readonly says: string;
  readonly make: (word: string) => TypedCommand;
}

/** Commands that need a tray and at most one word more. */
const SHORT: readonly ShortCommand[] = [
  {
    usage: 'sown <tray>',
    example: 'leek-1 --at "2h ago"',
    says: 'It was sown.',
    make: () => ({ do: 'sown' }),
  },
  {
    usage: 'germinated <tray>',
    example: 'celery-1 --by anna',
    says: 'It has germinated.',
    make: () => ({ do: 'germinated' }),
  },
  {
    usage: 'cover <tray> <kind>',
    example: 'leek-1 loose-dome',
    says: 'It was covered: film, loose-dome or tight-dome.',
    make: (cover: string) => ({ do: 'cover', cover }),
  },
  {
    usage: 'uncover <tray>',
    example: 'leek-1',
    says: 'The cover came off.',
    make: () => ({ do: 'cover', cover: 'none' }),
  },
  {
    usage: 'move <tray> <bench>',
    example: 'lettuce-1 north',
    says: 'It stands on another bench.',
    make: (bench: string) => ({ do: 'move', bench }),
  },
  {
    usage: 'looked <tray> <level>',
    example: 'celery-1 3',
    says: 'How its blocks look: 1 dry to 5 saturated.',
    make: (level: string) => ({ do: 'looked', level: readNumber(level, 'level', '3') }),
  },
  {
    usage: 'weighed <tray> <grams>',
    example: 'celery-1 2140',
    says: 'What tray and blocks weigh together, g.',
    make: (grams: string) => ({ do: 'weighed', grams: readNumber(grams, 'grams', '2140') }),
  },
  {
    usage: 'ready <tray>',
    example: 'celery-1 --at 13:40',
    says: 'It is ready for water now; teaches the refill point.',
    make: () => ({ do: 'ready-for-water' }),
  },
  {
    usage: 'attach <tray> <probe>',
    example: 'leek-1 moist-lettuce',
    says: 'A moisture probe or scale belongs to this tray now.',
    make: (probe: string) => ({ do: 'attach', probe }),
  },
  { usage: 'end <tray>', example: 'tomato-1', says: 'It leaves the house.', make: () => ({ do: 'end' }) },
];

/** `drybell tray …`: what happens to a tray. */
export function register(program: Command): void {
  const tray = program
    .command('tray')
    .description(
      'List the trays; tell what happens to one: new, sown, cover, germinated, move, pot-on, end ...',
    )
    .addHelpText('after', EXAMPLES);
  registerList(tray);
  registerWithSize(tray);
  for (const { usage, example, says, make } of SHORT) {
    const command = withTelling(tray.command(usage).description(says));
    command.addHelpText('after', `\nExample:\n  drybell tray ${command.name()} ${example}`);
    command.action(async (id: string, ...rest: unknown[]) => {
      const word = typeof rest[0] === 'string' ? rest[0] : '';
      await answerCommand(command.opts<TellFlags>(), () => ({ ...make(word), tray: id }));
    });
  }
}
