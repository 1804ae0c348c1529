import { span } from './ages.js';

/** What takes less is over before anybody looks. */
const QUIET_MS = 2000;
const EVERY_MS = 500;
const NARROW_COLUMNS = 40;

/** How far a long job is, on one line of the terminal; silent where stderr is none. */
export interface Progress {
  /** @param share of the work that is done, 0 to 1 */
  at(share: number): void;
  /** Takes the line away. */
  end(): void;
}

type Terminal = Pick<NodeJS.WriteStream, 'isTTY' | 'columns' | 'write'>;

/**
 * Says what is done, how much of it and, from the pace so far, how long it will still take; from two seconds on.
 * @param doing such as "readings played"
 */
export function showProgress(
  doing: string,
  terminal: Terminal = process.stderr,
  nowMs: () => number = () => performance.now(),
): Progress {
  const fromMs = nowMs();
  let saidMs = fromMs + QUIET_MS - EVERY_MS;
  let isShown = false;
  return {
    at(share) {
      const ms = nowMs();
      if (!terminal.isTTY || ms - saidMs < EVERY_MS) return;
      saidMs = ms;
      isShown = true;
      const left = share > 0 ? `, about ${span(((ms - fromMs) * (1 - share)) / share)} left` : '';
      const wide = (terminal.columns ?? NARROW_COLUMNS) - 1;
      terminal.write(`\r\x1b[K${`  ${Math.floor(100 * share)} % of ${doing}${left}`.slice(0, wide)}`);
    },
    end() {
      if (isShown) terminal.write('\r\x1b[K');
    },
  };
}
