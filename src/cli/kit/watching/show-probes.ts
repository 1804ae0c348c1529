import { usbPorts } from '../../../board/serial/choose-port.js';
import { listPorts } from '../../../board/serial/open-serial-port.js';
import { createSpeech } from '../../../watering/sentences/speech.js';
import { addressOf } from '../../asking/reach-monitor.js';
import { askedFarm } from '../../config/asked-config.js';
import { EXIT } from '../../program/exit-status.js';
import { createLog } from '../../program/log.js';
import { realClock } from '../../program/real-clock.js';
import { stopSignal } from '../../program/stop-signal.js';
import { openProbes } from '../../running/house-parts/open-probes.js';
import { type JsonFlag, printJson } from '../../terminal/json-option.js';
import { BadWord } from '../../terminal/typed/bad-word.js';
import { boardsReport, isAllWell, probesReport } from './probes-report.js';
import { tryCallPost } from './try-call-post.js';
import { probesPage, watchProbes } from './watch-probes.js';

export interface ProbesOptions extends JsonFlag {
  readonly config?: string;
  readonly every: string;
  readonly once?: true;
  readonly lamp?: true;
  readonly watch?: true;
}

const shortestS = 1;
const clearScreen = '\u001b[H\u001b[2J';

/** Prints the boards that are plugged in. */
export async function listBoards({ json }: JsonFlag): Promise<void> {
  const ports = usbPorts(await listPorts());
  if (json === true) return printJson(boardsReport(ports));
  if (ports.length === 0) {
    console.log('No board is plugged in. A cable that only charges has no data wires: try another one.');
    return;
  }
  for (const { path, serialNumber, manufacturer, link } of ports)
    console.log(
      serialNumber === undefined
        ? `${path}  no serial number: "port": "${link ?? path}"`
        : `${path}  "serialNumber": "${serialNumber}"  ${manufacturer ?? ''}`.trimEnd(),
    );
}

/** Shows the probes until somebody stops it. */
export async function showProbes({ config, every, once, lamp, watch, json }: ProbesOptions): Promise<void> {
  const everyS = Number(every);
  if (!(everyS >= shortestS)) {
    throw new BadWord(`--every ${every}: expected a number of seconds, ${shortestS} or more`);
  }
  if (json === true && (lamp === true || watch === true))
    throw new BadWord(
      `--json goes with --once or --boards: ${lamp === true ? '--lamp asks somebody to look' : '--watch goes on'}`,
    );
  const isOnce = once === true || json === true;
  const { file, farm } = askedFarm(config);
  const probes = farm.probes.filter(({ hookup }) => hookup !== undefined);
  if (probes.length === 0 && !lamp) {
    throw new BadWord(`${file}: no probe has a hookup, so there is nothing to read (hardware/README.md)`);
  }
  const reader = openProbes({
    config: farm,
    probes,
    clock: realClock,
    brokerAddress: addressOf(farm),
    asWhom: 'look',
    log: createLog('silent'),
  });
  const words = createSpeech({ timeZone: farm.timeZone, units: farm.units }).words;
  const ending = new AbortController();
  void stopSignal(() => ending.abort());
  try {
    if (lamp) {
      await tryCallPost(reader, realClock, (text) => console.log(text), ending.signal);
      return;
    }
    await watchProbes({
      reader,
      probes,
      clock: realClock,
      everyMs: everyS * 1000,
      ...(isOnce ? { times: 1 } : {}),
      show: (seen) => {
        if (isOnce && !isAllWell(seen)) process.exitCode = EXIT.notWell;
        if (json === true) return printJson(probesReport(farm.farm, seen));
        const text = probesPage(seen, words, watch === true);
        console.log(
          process.stdout.isTTY && !isOnce && !process.env['NO_COLOR'] ? `${clearScreen}${text}` : `${text}\n`,
        );
      },
      signal: ending.signal,
    });
  } catch (cause) {
    if (!ending.signal.aborted) throw cause;
  } finally {
    await reader.close();
  }
}
