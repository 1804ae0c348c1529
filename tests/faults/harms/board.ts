import { setTimeout as sleep } from 'node:timers/promises';
import { type Harm, span } from './harm.js';

const GARBAGE_BYTES = 64;
const GARBAGE_EVERY_MS = 5;

/** What is done to the board and its cable; afterwards its probes must be read again, and no reading be one that it did not say. */
export const BOARD_HARMS: readonly Harm[] = [
  {
    name: 'board unplugged',
    needs: ['board'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      await parts.board?.unplug();
      await sleep(span(random));
      await parts.board?.plug();
    },
  },
  {
    name: 'board reset',
    needs: ['board'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.board?.reset();
      await sleep(span(random));
    },
  },
  {
    name: 'board hangs',
    needs: ['board'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.board?.hang(true);
      await sleep(2 * span(random));
      parts.board?.hang(false);
    },
  },
  {
    name: 'garbage from the board',
    needs: ['board'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      const untilMs = performance.now() + span(random);
      while (performance.now() < untilMs) {
        parts.board?.say(
          Buffer.from(Array.from({ length: GARBAGE_BYTES }, () => Math.floor(random() * 256))),
        );
        await sleep(GARBAGE_EVERY_MS);
      }
    },
  },
];
