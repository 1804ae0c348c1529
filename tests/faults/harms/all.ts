import { BOARD_HARMS } from './board.js';
import { CLOCK_HARMS } from './clock.js';
import { FILE_HARMS } from './files.js';
import type { Harm } from './harm.js';
import { NETWORK_HARMS } from './network.js';
import { PROCESS_HARMS } from './process.js';

/** All that is done to the house on purpose. */
export const HARMS: readonly Harm[] = [
  ...PROCESS_HARMS,
  ...BOARD_HARMS,
  ...NETWORK_HARMS,
  ...FILE_HARMS,
  ...CLOCK_HARMS,
];
