import '../helpers/own-surroundings.js';
import { allMishaps, faultsOf, MISHAPS } from '../helpers/mishaps.js';
import type { Measurement } from './measurement.js';

const WIDTH = 110;

/** First line that was said, short enough for a table. */
function gist(out: string, err: string): string {
  const line = [...err.split('\n'), ...out.split('\n')].find((one) => one.trim() !== '')?.trim() ?? '';
  return line.length > WIDTH ? `${line.slice(0, WIDTH - 1)}…` : line;
}

export const measurement: Measurement = {
  help: [
    'Every command of the program met by a mistyped name, a missing file, a pipe closed at once or after a line, no store and no terminal:',
    'what it says and its exit status, as a table. Exit status 1 where something is not one helpful line.',
  ].join('\n'),
  async run() {
    const all = await allMishaps();
    let faulty = 0;
    for (const mishap of MISHAPS) {
      console.log(`\n## ${mishap}\n\n| command | exit | says |\n|---|---|---|`);
      for (const one of all
        .filter((each) => each.mishap === mishap)
        .sort((a, b) => a.command.localeCompare(b.command))) {
        const faults = faultsOf(one);
        faulty += faults.length;
        const said = one.typed === undefined ? '' : gist(one.out, one.err).replaceAll('|', '/');
        const exit = one.typed === undefined ? '–' : (one.status ?? 'goes on');
        console.log(
          `| ${one.command} | ${exit} | ${said}${faults.length === 0 ? '' : ` **${faults.join('; ')}**`} |`,
        );
      }
    }
    console.log(`\n${all.filter(({ typed }) => typed !== undefined).length} tried, ${faulty} faults`);
    return faulty === 0 ? 0 : 1;
  },
};
