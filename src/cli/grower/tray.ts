import type { Command } from 'commander';
import type { UnitsConfig } from '../../../shared/config/notices.js';
import { answerCommand } from '../asking/answer-command.js';
import { type ListFlags, listTrays } from '../asking/list-trays.js';
import { type TellFlags, withReach, withTelling } from '../asking/reach-monitor.js';
import type { TypedCommand } from '../asking/talk.js';
import { type ManyFlags, tellOfEach, withMany } from '../asking/tell-of-trays.js';
import { withJson } from '../terminal/json-option.js';
import { BadWord, readNumber } from '../terminal/typed/bad-word.js';
import { readSideMm } from '../terminal/typed/block-side.js';
import { readQuantity } from '../terminal/typed/quantities.js';

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
  drybell tray                            all that stand, bench by bench
  drybell tray new celery-2 --bench south --side mini --crop celery --sown "2h ago"
  drybell tray cover celery-2 loose-dome
  drybell tray germinated celery-2 --by anna
  drybell tray uncover south              every tray of the bench; a crop or a block size does as well
  drybell tray move leek lettuce-1 north  several at once
  drybell tray pot-on celery-2 celery-3 --side 51mm
  drybell tray looked celery-1 3          1 dry, 2 light brown, 3 drying, 4 full, 5 saturated
  drybell undo cli-3f2a9c1e-77b0          takes back a command of the last day`;

/** Flags with a number: what the command calls it, and an example. */
const NUMBERS = [
  { flag: 'count', key: 'blockCount', example: '72' },
  { flag: 'capacity', key: 'containerCapacityM3PerM3', example: '0.62' },
  { flag: 'refillPoint', key: 'refillPointM3PerM3', example: '0.37' },
] as const;

/** Flags with a length or an area, in the farm's unit where none is typed. */
const MEASURED = [
  { flag: 'channelDepth', key: 'channelDepthMm', measure: 'length' },
  { flag: 'trayArea', key: 'trayAreaM2', measure: 'area' },
] as const;

const typedFlag = (flag: string): string =>
  `--${flag.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/** What is said of a tray beside its name. */
function sizeOf(flags: SizeFlags, units: UnitsConfig): object {
  const numbers = NUMBERS.flatMap(({ flag, key, example }) => {
    const text = flags[flag];
    return text === undefined ? [] : [[key, readNumber(text, typedFlag(flag), example)]];
  });
  const measured = MEASURED.flatMap(({ flag, key, measure }) => {
    const text = flags[flag];
    return text === undefined ? [] : [[key, readQuantity(measure, typedFlag(flag), text, units)]];
  });
  return {
    ...(flags.side === undefined ? {} : { blockSideMm: readSideMm(flags.side, units) }),
    ...Object.fromEntries([...numbers, ...measured]),
    ...(flags.bench === undefined ? {} : { bench: flags.bench }),
    ...(flags.crop === undefined ? {} : { crop: flags.crop }),
    ...(flags.medium === undefined ? {} : { medium: flags.medium }),
    ...(flags.cover === undefined ? {} : { cover: flags.cover }),
  };
}

function withSize(command: Command): Command {
  return withTelling(command)
    .option('--bench <id>', 'bench it stands on')
    .option('--side <size>', 'mini, or a side such as 38mm or 2in; a bare number is in the unit of the farm')
    .option(
      '--count <blocks>',
      'blocks on the tray; the usual number when absent (mini 280, 38 mm 72, 51 mm 48)',
    )
    .option('--crop <name>')
    .option('--medium <name>')
    .option('--cover <kind>', 'none, film, loose-dome or tight-dome')
    .option(
      '--channel-depth <length>',
      'how deep one pour may stand, lip or channel: 9mm, 3/8in; 12 mm when absent',
    )
    .option('--tray-area <area>', 'inside of the tray: 0.16m2, "46 x 36 cm"; 14 x 18 in when absent')
    .option('--capacity <m3/m3>', 'water content when watered and drained; learned when absent')
    .option('--refill-point <m3/m3>', 'water content at which it must be watered; learned when absent')
    .addHelpText('after', EXAMPLES);
}

function registerList(tray: Command): void {
  withJson(
    withReach(
      tray
        .command('list [which...]', { isDefault: true })
        .description(
          'All trays that stand, bench by bench: blocks, cover, probe, last watering, what is left.',
        ),
    ),
    'tray-list',
  )
    .addHelpText(
      'after',
      '\nExamples:\n  drybell tray                          the same as: drybell tray list\n  drybell tray list\n  drybell tray list south mini          only these\n  drybell tray list --broker mqtt://127.0.0.1:1883 --json',
    )
    .action((which: string[], flags: ListFlags) => listTrays(which, flags));
}

function registerWithSize(tray: Command): void {
  withSize(tray.command('new <tray>').description('A tray comes into the house.'))
    .option('--sown <time>', 'when it was sown')
    .option('--germinated <time>', 'when it germinated')
    .action((id: string, flags: SizeFlags) =>
      answerCommand(flags, async ({ moment, units }) => ({
        do: 'new-tray',
        tray: id,
        ...sizeOf(flags, units),
        ...(flags.sown === undefined ? {} : { sownAt: await moment(flags.sown, 'past') }),
        ...(flags.germinated === undefined ? {} : { germinatedAt: await moment(flags.germinated, 'past') }),
      })),
    );
  withSize(
    tray.command('pot-on <tray> <to-tray>').description('Its blocks go into larger blocks on another tray.'),
  ).action((id: string, toTray: string, flags: SizeFlags) =>
    answerCommand(flags, ({ units }) => ({ do: 'pot-on', tray: id, toTray, ...sizeOf(flags, units) })),
  );
}

/** Kitchen scales show a tenth of a gram. */
const TENTHS = 10;

interface ShortCommand {
  readonly name: string;
  /** What stands after the trays, if anything does. */
  readonly last?: string;
  /** Only one tray can be meant. */
  readonly one?: true;
  /** What may stand after the command's name. */
  readonly example: string;
  readonly says: string;
  readonly make: (word: string, units: UnitsConfig) => TypedCommand;
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
    last: 'weight',
    one: true,
    example: 'celery-1 2140 g',
    says: "What tray and blocks weigh together: 2140 g, 2.14 kg, 4 lb 11 oz; a bare number is in the farm's unit.",
    make: (weight, units) => ({
      do: 'weighed',
      grams: Math.round(readQuantity('weight', 'weight', weight, units) * TENTHS) / TENTHS,
    }),
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
    command.argument('<tray>').argument(`<${last}...>`);
    command.usage(`[options] <tray> <${last}>`);
    command.action((id: string, words: string[], flags: TellFlags) =>
      answerCommand(flags, ({ units }) => ({ ...make(words.join(' '), units), tray: id })),
    );
    return;
  }
  withMany(command).argument('<which...>', 'trays, benches, crops or block sizes');
  command.usage(`[options] <which...>${last === undefined ? '' : ` <${last}>`}`);
  command.action(async (words: string[], flags: ManyFlags) => {
    const which = last === undefined ? words : words.slice(0, -1);
    if (which.length === 0)
      throw new BadWord(`Say which trays, then the ${last}: drybell tray ${name} ${example}`);
    await tellOfEach(which, flags, (id, { units }) => ({ ...make(words.at(-1) ?? '', units), tray: id }));
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
