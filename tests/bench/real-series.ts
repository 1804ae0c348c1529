import { realRecordingTable } from '../benchmark/real-recording.js';
import { type Measurement, optionValue } from './measurement.js';

const help = `Forecasts on a real recording in replay's form (drybell convert makes one). Most dry-downs end by a watering before
the refill point is crossed: truth and forecast are both cut at the end of the dry-down, so that slow ones count too.
\`forecast --real FOLDER\` does the same for every recording in a folder.

  --config FILE     the farm: trays with refillPointM3PerM3 and calibrated probes
  --readings FILE   time,probe,value`;

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const configFile = optionValue(options, '--config');
    const readingsFile = optionValue(options, '--readings');
    if (configFile === undefined || readingsFile === undefined) {
      console.error(help);
      return 2;
    }
    console.log(await realRecordingTable(configFile, readingsFile));
    return undefined;
  },
};
