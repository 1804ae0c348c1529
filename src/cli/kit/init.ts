import { existsSync, readFileSync } from 'node:fs';
import type { Command } from 'commander';
import { listPorts, openSerialPort } from '../../board/serial/open-serial-port.js';
import { writeWhole } from '../../host/disk/write-whole.js';
import { loadConfig } from '../config/load-config.js';
import type { FirstFarm } from '../config/write-config.js';
import { EXIT } from '../program/exit-status.js';
import { realClock } from '../program/real-clock.js';
import type { Dialogue } from '../terminal/dialogue/dialogue.js';
import { terminalDialogue } from '../terminal/dialogue/terminal-dialogue.js';
import { type Answers, draftFile, dropDraft, loadDraft } from './first-farm/draft.js';
import { changedText, type FarmText, fittingText, newText } from './first-farm/farm-text.js';
import { findKit } from './first-farm/find-kit.js';
import { interview } from './first-farm/interview.js';
import { kitQuestions } from './first-farm/kit-questions.js';
import { languageOfLocale, placeOfTown, USUAL_LIMITS_C, unitsOfCountry } from './first-farm/questions.js';
import { townOf } from './first-farm/zone-town.js';

interface InitOptions {
  readonly farm?: string;
  readonly timeZone?: string;
  readonly place?: string;
  readonly rounds?: string;
  readonly language?: string;
  readonly units?: string;
  readonly benches?: string;
  readonly limits?: string;
  readonly out: string;
  readonly yes?: true;
  readonly force?: true;
}

const EXAMPLES = `
Examples:
  drybell init                                   asks; Ctrl-C leaves, the next init goes on there
  drybell init --yes --farm alder-row --time-zone Europe/Berlin --rounds 07:00,18:00 --benches south,north
  drybell init --rounds 06:30,17:30              changes one thing of a configuration that is there
  drybell init --place none                      or --place "52.1, 9.9"
Comments and layout of a configuration that is there stay; without an option, each thing is asked, Enter keeps it.`;

/** What is suggested for a new farm. */
function suggestedFarm(timeZone: string): FirstFarm {
  return {
    farm: 'my-farm',
    timeZone,
    place: placeOfTown(timeZone),
    rounds: ['07:00', '18:00'],
    language: languageOfLocale(Intl.DateTimeFormat().resolvedOptions().locale),
    units: unitsOfCountry(townOf(timeZone)?.country),
    benches: ['south'],
    limitsC: USUAL_LIMITS_C,
    boards: [],
    probes: [],
  };
}

/** The options that answer a question. */
function givenAnswers(options: InitOptions): Answers {
  const { farm, timeZone, place, rounds, language, units, benches, limits } = options;
  const given = Object.entries({ farm, timeZone, place, rounds, language, units, benches, limits });
  return Object.fromEntries(given.flatMap(([key, typed]) => (typed === undefined ? [] : [[key, typed]])));
}

/** Writes a text that is known to fit, and says what came of it. */
function write(file: string, target: FarmText, farm: FirstFarm): void {
  const text = fittingText(target, farm, file, realClock.nowMs());
  dropDraft(file);
  if (target.isThere && text === target.write(target.farm)) {
    console.log(`${file} stays as it is.`);
    return;
  }
  writeWhole(file, text);
  const added = farm.boards.length + farm.probes.length;
  console.log(
    `${file} is ${target.isThere ? 'changed, its comments kept' : 'written'}${added === 0 ? '' : `, with ${farm.boards.length} boards and ${farm.probes.length} probes that were found`}. Then: drybell check`,
  );
}

async function init(options: InitOptions): Promise<void> {
  const { out: file, yes, force } = options;
  const isThere = existsSync(file) && force !== true;
  const given = givenAnswers(options);
  const zone = options.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  const target = isThere ? changedText(readFileSync(file, 'utf8'), file) : newText(suggestedFarm(zone));
  const asksNothing = yes === true || (isThere && Object.keys(given).length > 0);
  const dialogue = asksNothing ? undefined : terminalDialogue(process.stdin, process.stdout);
  const draft = loadDraft(file);
  const isTakenUp = dialogue !== undefined && Object.keys(draft).length > 0;
  if (isTakenUp)
    dialogue.say(
      `Going on where it was left, with: ${Object.values(draft).join('; ')}. From the beginning: delete ${draftFile(file)}`,
    );
  process.once('SIGINT', () => dialogue?.close());
  try {
    const { farm } = await interview({
      file,
      target,
      given,
      draft: isTakenUp ? draft : {},
      ...(dialogue === undefined ? {} : { dialogue }),
      nowMs: realClock.nowMs(),
      kit: (asked) =>
        isThere && asked === undefined ? Promise.resolve([]) : lookForKit(file, isThere, asked),
    });
    if (farm !== undefined) return write(file, target, farm);
    console.error(
      existsSync(draftFile(file))
        ? `\nLeft; nothing is written but the answers so far: drybell init goes on there`
        : `\nLeft before the first answer; nothing is written. Without questions: drybell init --yes`,
    );
    process.exitCode = EXIT.couldNot;
  } finally {
    dialogue?.close();
  }
}

async function lookForKit(file: string, isThere: boolean, dialogue?: Dialogue) {
  dialogue?.say('Looking for boards and probes…');
  const known = isThere ? loadConfig(file) : undefined;
  const kit = await findKit(
    {
      clock: realClock,
      ports: listPorts,
      openTransport: openSerialPort,
      random: Math.random,
      w1Folder: '/sys/bus/w1/devices',
    },
    known,
  );
  for (const { board, state } of kit.boards) dialogue?.say(`  ${board.id}: ${state}`);
  if (kit.boards.length === 0 && kit.own.length === 0)
    dialogue?.say('  none that is new; when one is plugged in, drybell init again adds it');
  return kitQuestions(kit, new Set(known?.probes.map(({ id }) => id)));
}

/** `drybell init`: a commented configuration to begin with, or one thing of it changed. */
export function register(program: Command): void {
  program
    .command('init')
    .description(
      'Write a commented configuration to begin with, or change one; asks for what no option gives.',
    )
    .option('--farm <name>', 'name of the farm, 1 to 40 letters, digits, - or _')
    .option('--time-zone <zone>', 'IANA name such as Europe/Berlin')
    .option('--place <latitude, longitude>', 'of the nearest town, or none: the season’s daylight')
    .option('--rounds <times>', 'when the benches are walked, such as 07:00,18:00')
    .option('--language <language>', 'of notices, calls, answers and the page: English or Spanish')
    .option('--units <system>', 'metric, us, or a mixture such as "mL, F, in"')
    .option('--benches <names>', 'benches, one for each climate, such as south,north')
    .option('--limits <low, high>', 'call when a bench is colder or hotter, in the farm’s unit; or none')
    .option('--out <file>', 'where to write it', 'drybell.jsonc')
    .option('--yes', 'ask nothing: what no option gives is as suggested')
    .option('--force', 'write a new one over a file that is there')
    .addHelpText('after', EXAMPLES)
    .action(init);
}
