import { randomUUID } from 'node:crypto';
import { type Command, InvalidArgumentError } from 'commander';
import pc from 'picocolors';
import { idSchema } from '../../../shared/base/ids.js';
import { testReportSchema } from '../../../shared/base/test-call.js';
import { MS_PER_MIN } from '../../../shared/base/time-units.js';
import { answerCommand, printAnswers } from '../asking/answer-command.js';
import { reachMonitor, type TellFlags, withSender } from '../asking/reach-monitor.js';
import { TestWays, tookWords } from '../asking/test-ways.js';
import { EXIT } from '../program/exit-status.js';
import { BadWord } from '../terminal/typed/bad-word.js';

const DEFAULT_WAIT_MIN = 2;
const LONGEST_WAIT_MIN = 60;

const EXAMPLES = `
Examples:
  drybell call --test              try every way, wait two minutes for answers
  drybell call --test --wait 10
  drybell call --seen              the test call came (one way only)
  drybell call --seen sms          it came by the webhook "sms"
Exit status of --test: 0 somebody answered and every way took the call; 1 not so; 3 nothing could be sent.`;

interface CallFlags extends TellFlags {
  readonly test?: true;
  readonly seen?: string | true;
  readonly wait: number;
}

function minutes(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !(value > 0 && value <= LONGEST_WAIT_MIN))
    throw new InvalidArgumentError(`Expected minutes, more than 0 and up to ${LONGEST_WAIT_MIN}.`);
  return value;
}

/** Sends a test call by every way, prints what becomes of it, and waits for answers. */
async function test(flags: CallFlags): Promise<void> {
  const ref = flags.ref ?? `test-${randomUUID().slice(0, 13)}`;
  if (!idSchema.safeParse(ref).success)
    throw new BadWord(`--ref "${ref}": expected 1 to 40 letters, digits, "-" or "_"`);
  // as data the answer is the one document; what comes in afterwards goes to the other stream
  const say = (text: string): void => (flags.json === true ? console.error(text) : console.log(text));
  const { monitor } = await reachMonitor(flags);
  const ways = new TestWays();
  let timer: NodeJS.Timeout | undefined;
  try {
    let finish: () => void = () => undefined;
    const finished = new Promise<void>((resolve) => {
      finish = resolve;
    });
    const reports = monitor.topics.testReport(ref);
    await monitor.hear([reports], ({ topic, text }) => {
      if (topic !== reports) return;
      const line = ways.take(testReportSchema.parse(JSON.parse(text)));
      if (line !== undefined) say(line);
      if (ways.isOver) finish();
    });
    const by = flags.by === undefined ? {} : { by: flags.by };
    const answer = await monitor.send({ do: 'test-call', ref, ...by });
    if (!answer.ok || flags.json === true) printAnswers([answer], flags);
    if (!answer.ok) return;
    say(`${answer.sentence} ${pc.dim('Waiting for answers; Ctrl-C ends.')}`);
    const waitMs = flags.wait * MS_PER_MIN;
    const fromMs = performance.now();
    timer = setTimeout(() => finish(), waitMs);
    const wasCut = await Promise.race([finished.then(() => false), monitor.ended().then(() => true)]);
    if (!ways.isOver) for (const line of ways.lines()) say(line);
    const complaint = wasCut
      ? `The connection to the monitor ended after ${tookWords(performance.now() - fromMs)}; what became of the test call since is not known. Look whether the monitor still runs, and try again.`
      : ways.complaint(waitMs);
    if (complaint === undefined) return;
    console.error(complaint);
    process.exitCode = EXIT.notWell;
  } finally {
    clearTimeout(timer);
    await monitor.close();
  }
}

/** `drybell call --test` and `drybell call --seen`. */
export function register(program: Command): void {
  withSender(program.command('call').description('Try whether calls reach people, by every way.'))
    .option('--test', 'send a test call by every way and wait for answers')
    .option('--seen [way]', 'answer a test call: it came, by this way')
    .option('--wait <minutes>', 'how long to wait for answers', minutes, DEFAULT_WAIT_MIN)
    .addHelpText('after', EXAMPLES)
    .action((flags: CallFlags) => {
      const { seen } = flags;
      if (seen !== undefined && flags.test === undefined)
        return answerCommand(flags, () => ({ do: 'test-seen', ...(seen === true ? {} : { way: seen }) }));
      if (flags.test === undefined || seen !== undefined)
        throw new BadWord(
          'Say either --test (send a test call) or --seen (it came); see "drybell call --help".',
        );
      return test(flags);
    });
}
