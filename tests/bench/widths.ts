import { everyWidth, misfits } from '../helpers/widths.js';
import type { Measurement } from './measurement.js';

const WIDTHS = [40, 80, 200];

export const measurement: Measurement = {
  help: [
    'Every command and its help on a pseudo-terminal of 40, 80 and 200 columns, with colours and with NO_COLOR: lines that are',
    'wider than the terminal though they could be broken, and escapes that nobody wanted. Exit status 1 where there is one.',
  ].join('\n'),
  async run() {
    let tried = 0;
    let faulty = 0;
    await everyWidth(WIDTHS, (shown) => {
      tried += 1;
      for (const misfit of misfits(shown)) {
        faulty += 1;
        console.log(`drybell ${shown.typed.join(' ')}, ${shown.columns} columns: ${misfit}`);
      }
    });
    console.log(`${tried} shown, ${faulty} do not fit`);
    return faulty === 0 ? 0 : 1;
  },
};
