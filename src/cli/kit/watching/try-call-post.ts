import { boardWords } from '../../../board/station/board-health.js';
import type { BoardProbeReader } from '../../../board/station/probe-reader.js';
import type { Clock } from '../../../monitor/ports/ports.js';
import { boardsMet } from './watch-probes.js';

const longestMs = 30_000;

/** Lamp and buzzer of every board on, until a button is pressed or half a minute is over. */
export async function tryCallPost(
  reader: BoardProbeReader,
  clock: Clock,
  say: (text: string) => void,
  signal: AbortSignal,
): Promise<void> {
  await boardsMet(reader, clock, signal);
  for (const board of reader.health()) say(boardWords(board));
  if (!reader.health().some(({ state }) => state === 'ready')) {
    say('No board answers, so lamp, buzzer and button were not tried.');
    return;
  }
  const pressed = new AbortController();
  const stop = () => pressed.abort();
  signal.addEventListener('abort', stop, { once: true });
  let by: string | undefined;
  reader.onAcknowledge((boardId) => {
    by = boardId;
    stop();
  });
  await reader.showCall(true);
  say('Lamp and buzzer are on. Press the button.');
  await clock.sleep(longestMs, pressed.signal).catch(() => undefined);
  await reader.showCall(false);
  signal.removeEventListener('abort', stop);
  say(by === undefined ? 'No button was pressed.' : `The button on board ${by} works.`);
}
