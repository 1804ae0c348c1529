import { execFile } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { type ClockFacts, confirmFile } from './clock-trust.js';

const run = promisify(execFile);
const rtcFolder = '/sys/class/rtc';
const timesyncMark = '/run/systemd/timesync/synchronized';

/**
 * What this machine knows of its clock.
 * @param witnesses files and folders whose age proves that a time is past
 */
export async function clockFacts(nowMs: number, witnesses: readonly string[]): Promise<ClockFacts> {
  return {
    nowMs,
    notBeforeMs: Math.max(0, ...witnesses.map(latestChangeMs)),
    synchronised: existsSync(timesyncMark) || (await followsTimeServer()),
    batteryClockMs: batteryClockMs(rtcFolder),
    confirmed: existsSync(confirmFile),
  };
}

/** chrony and ntpd leave no mark, but the kernel knows. */
async function followsTimeServer(): Promise<boolean> {
  try {
    const { stdout } = await run('timedatectl', ['show', '-p', 'NTPSynchronized', '--value'], {
      timeout: 3_000,
    });
    return stdout.trim() === 'yes';
  } catch (cause) {
    if (cause instanceof Error) return false;
    throw cause;
  }
}

/** Time of the clock from which the kernel set the system at boot; undefined when there is none. */
export function batteryClockMs(folder: string): number | undefined {
  if (!existsSync(folder)) return undefined;
  for (const name of readdirSync(folder)) {
    const fact = (file: string): string => {
      const path = join(folder, name, file);
      return existsSync(path) ? readFileSync(path, 'utf8').trim() : '';
    };
    if (fact('hctosys') === '1' && fact('since_epoch') !== '') return Number(fact('since_epoch')) * 1000;
  }
  return undefined;
}

/** Last change of a file, or of the newest file in a folder; 0 when it is not there. */
export function latestChangeMs(path: string): number {
  const about = statSync(path, { throwIfNoEntry: false });
  if (about === undefined) return 0;
  if (!about.isDirectory()) return about.mtimeMs;
  return Math.max(
    0,
    ...readdirSync(path).map((name) => statSync(join(path, name), { throwIfNoEntry: false })?.mtimeMs ?? 0),
  );
}
