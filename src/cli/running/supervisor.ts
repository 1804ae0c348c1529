import { spawn } from 'node:child_process';

/** A beat goes out when this part of the watchdog's patience is over, as sd_watchdog_enabled(3) advises (half), and once more. */
const BEATS_IN_PATIENCE = 4;
const US_PER_MS = 1_000;

/** Whoever started us and wants to know how we are. */
export interface Supervisor {
  /** Everything answers. */
  ready(): void;
  /** The loop that does the work has come round once more. */
  beat(): void;
  /** We end because we were told to. */
  stopping(): void;
}

/**
 * systemd, where it started us (sd_notify(3)); nobody otherwise. It is told through systemd-notify, since Node has no datagram sockets of the Unix
 * family. A beat while the last one is still on its way, or too soon after it, is left out.
 * @param onTrouble called when it can't be told
 */
export function createSupervisor(
  env: NodeJS.ProcessEnv,
  monotonicMs: () => number,
  onTrouble: (sentence: string) => void,
): Supervisor {
  if (env['NOTIFY_SOCKET'] === undefined)
    return { ready: () => undefined, beat: () => undefined, stopping: () => undefined };
  const everyMs = Number(env['WATCHDOG_USEC'] ?? Number.NaN) / US_PER_MS / BEATS_IN_PATIENCE;
  let isBusy = false;
  let saidMs = Number.NEGATIVE_INFINITY;
  const say = (...words: readonly string[]) => {
    isBusy = true;
    const done = (sentence?: string) => {
      isBusy = false;
      if (sentence !== undefined) onTrouble(sentence);
    };
    const child = spawn('systemd-notify', words, { env, stdio: 'ignore' });
    child.once('error', (cause) => done(`cannot run systemd-notify: ${cause.message}`));
    child.once('exit', (status) => done(status === 0 ? undefined : `systemd-notify ended with ${status}`));
  };
  return {
    ready: () => say('READY=1'),
    beat: () => {
      if (isBusy || !(monotonicMs() - saidMs >= everyMs)) return;
      saidMs = monotonicMs();
      say('WATCHDOG=1');
    },
    stopping: () => say('STOPPING=1'),
  };
}
