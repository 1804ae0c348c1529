import { fuzz } from '../fuzz/run-fuzz.js';
import { openTargets } from '../fuzz/targets.js';
import { type Measurement, optionNumber, optionValue, table } from './measurement.js';

const help = `Bad inputs, byte by byte, for every door of the program: configuration, recordings, commands, delivered readings, the serial line,
MQTT and HTTP. Each must be refused in good order or taken; MQTT and HTTP must go on working. What breaks is printed in base64.

  --cases N     for each door, default 20000; a tenth of that for MQTT and HTTP
  --seed N      default 1
  --only WORD   doors whose name holds this word`;

const SLOW_DOORS = new Set(['MQTT', 'HTTP']);

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const cases = optionNumber(options, '--cases', 20_000);
    const seed = optionNumber(options, '--seed', 1);
    const only = optionValue(options, '--only') ?? '';
    const targets = await openTargets();
    const rows = [['door', 'cases', 'refused', 'broke']];
    let brokeCount = 0;
    for (const target of targets) {
      if (target.name.includes(only)) {
        const report = await fuzz(target, SLOW_DOORS.has(target.name) ? cases / 10 : cases, seed);
        rows.push([report.name, `${report.cases}`, `${report.refused}`, `${report.broke.length}`]);
        brokeCount += report.broke.length;
        for (const { input, what } of report.broke) console.error(`${report.name}: ${input}\n${what}`);
      }
      await target.close?.();
    }
    console.log(`seed ${seed}\n${table(rows)}`);
    return brokeCount === 0 ? 0 : 1;
  },
};
