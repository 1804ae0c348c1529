import { spawnSync } from 'node:child_process';
import { existsSync, realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import { usbPorts } from '../../../board/serial/choose-port.js';
import { listPorts } from '../../../board/serial/open-serial-port.js';
import { portGroup } from '../../../board/serial/port-group.js';
import { writeWhole } from '../../../host/disk/write-whole.js';
import type { Clock } from '../../../monitor/ports/ports.js';
import { askedFarm } from '../../config/asked-config.js';
import { STATE_FOLDER, UNIT_FILE } from '../../config/service-place.js';
import { EXIT } from '../../program/exit-status.js';
import { clockFacts } from './clock-facts.js';
import { clockTrust } from './clock-trust.js';
import { serviceUnit } from './service-unit.js';

const pollMs = 5_000;
const sayAgainMs = 600_000;

export interface InstallOptions {
  readonly config?: string;
  readonly user: string;
  readonly print?: true;
}

/** Prints the unit, or makes the user, writes the unit and starts it. */
export async function installService({ config, user, print }: InstallOptions): Promise<void> {
  const usable = askedFarm(config);
  const [port] = usbPorts(await listPorts());
  const group = await portGroup(port?.path ?? '/dev/ttyS0');
  const unit = serviceUnit({
    node: process.execPath,
    program: realpathSync(process.argv[1] ?? ''),
    config: resolve(usable.file),
    user,
    portGroup: group,
  });
  if (print) {
    process.stdout.write(unit);
    return;
  }
  const objection = await mayInstall();
  if (objection !== undefined) {
    console.error(objection);
    process.exitCode = EXIT.couldNot;
    return;
  }
  const known = spawnSync('id', ['-u', user]).status === 0;
  const steps: readonly (readonly string[])[] = [
    ...(known
      ? []
      : [['useradd', '--system', '--home-dir', STATE_FOLDER, '--shell', '/usr/sbin/nologin', user]]),
    ['usermod', '--append', '--groups', group, user],
    ['runuser', '-u', user, '--', 'test', '-r', resolve(usable.file)],
    ['runuser', '-u', user, '--', 'test', '-x', process.execPath],
  ];
  if (!steps.every((step) => did(step))) return;
  writeWhole(UNIT_FILE, unit);
  console.log(`Written: ${UNIT_FILE}`);
  const started = [
    ['systemctl', 'daemon-reload'],
    ['systemctl', 'enable', '--now', 'drybell.service'],
  ].every((step) => did(step));
  if (started) console.log('Drybell starts at boot now. Watch it: journalctl -u drybell -f');
}

async function mayInstall(): Promise<string | undefined> {
  if (!existsSync('/run/systemd/system'))
    return 'this machine does not run systemd; `--print` shows the unit';
  if (process.getuid?.() !== 0) return 'only root may install a service: run it again with sudo';
  return undefined;
}

/** Runs one step, told before it is taken; a failing one ends the installation with what it said. */
function did(step: readonly string[]): boolean {
  const [command = '', ...words] = step;
  console.log(`+ ${step.join(' ')}`);
  const { status, stderr, error } = spawnSync(command, words, { encoding: 'utf8' });
  if (status === 0) return true;
  const isAccess = command === 'runuser';
  console.error(
    isAccess
      ? `the service's user can't use ${words.at(-1)}: move it out of your home folder, e.g. to /etc/drybell or /opt/drybell`
      : `${step.join(' ')} failed: ${error?.message ?? stderr.trim()}`,
  );
  process.exitCode = EXIT.couldNot;
  return false;
}

/** Returns when the clock can be trusted; says now and then what it waits for. */
export async function waitForClock(
  config: string | undefined,
  clock: Clock,
  say: (text: string) => void,
): Promise<void> {
  const usable = askedFarm(config);
  const witnesses = [process.argv[1] ?? '', resolve(usable.file), resolve(usable.farm.store.folder)];
  let saidMs = Number.NEGATIVE_INFINITY;
  let saidWhat = '';
  for (;;) {
    const trust = clockTrust(await clockFacts(clock.nowMs(), witnesses));
    if (trust.kind === 'trusted') {
      say(`Clock: ${trust.because}.`);
      return;
    }
    const what = trust.because.replace(/[\d:-]+/g, '');
    if (what !== saidWhat || clock.monotonicMs() - saidMs > sayAgainMs) {
      say(`Waiting for the clock: ${trust.because}.`);
      saidMs = clock.monotonicMs();
      saidWhat = what;
    }
    await clock.sleep(pollMs);
  }
}
