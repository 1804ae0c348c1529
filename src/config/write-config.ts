/** What a new farm needs to begin; everything else has defaults or comes by command. */
export interface FirstFarm {
  readonly farm: string;
  readonly timeZone: string;
  readonly rounds: readonly string[];
  readonly benches: readonly string[];
  readonly latitude?: number | undefined;
  readonly longitude?: number | undefined;
}

const quoted = (words: readonly string[]): string =>
  `[${words.map((word) => JSON.stringify(word)).join(', ')}]`;

function place({ latitude, longitude }: FirstFarm): string {
  return latitude === undefined || longitude === undefined
    ? `  // "latitude": 52.1, "longitude": 9.9,   the season's daylight, if you like`
    : `  "latitude": ${latitude},\n  "longitude": ${longitude},`;
}

/** A commented configuration for a new farm. It holds no trays: those come by command, or are added by hand. */
export function firstConfigText(farm: FirstFarm): string {
  const bench = farm.benches[0] ?? 'south';
  return `// Drybell configuration: JSON with comments. "drybell check" reads it and says what does not fit.
// Every key is explained in shared/schemas/farm-config.schema.json; a whole farm stands in shared/examples/alder-row.jsonc.
{
  "farm": ${JSON.stringify(farm.farm)},
  "timeZone": ${JSON.stringify(farm.timeZone)},
${place(farm)}

  // When somebody walks the benches. Per weekday: { "mon": ["07:00", "18:00"], "sun": ["08:30"] }
  "rounds": ${quoted(farm.rounds)},
  "units": { "volume": "mL", "temperature": "C", "length": "mm" },
  "cadenceS": 60, // seconds between two readings of each probe

  "benches": [
${farm.benches.map((id) => `    { "id": ${JSON.stringify(id)} }`).join(',\n')}
  ],

  // What stands on the benches when you begin. Later: drybell tray new celery-1 --bench ${bench} --side mini --crop celery
  "trays": [
    // { "id": "celery-1", "bench": ${JSON.stringify(bench)}, "blockSideMm": 19, "blockCount": 280, "crop": "celery" }
  ],

  // The kit: hardware/README.md says what to build, "drybell wiring" draws it, "drybell probes --boards" lists boards.
  "boards": [
    // { "id": "board-1", "model": "uno", "serialNumber": "..." }
  ],
  "probes": [
    // { "id": "temp-${bench}", "kind": "air-temperature", "bench": ${JSON.stringify(bench)}, "hookup": { "part": "sht31", "board": "board-1" } },
    // { "id": "rh-${bench}", "kind": "relative-humidity", "bench": ${JSON.stringify(bench)}, "hookup": { "part": "sht31", "board": "board-1" } }
    // A probe that comes by radio, over the broker, needs no board:
    // { "id": "temp-far", "kind": "air-temperature", "bench": ${JSON.stringify(bench)},
    //   "hookup": { "part": "delivered", "topic": "nodes/n1/air", "path": "/air/t", "unit": "Cel", "staleAfterS": 720 } }
  ],

  "notices": {
    "leadMin": 75, // the notice comes this long before each round
    "riskPct": 20 // a tray is due when its driest tenth may not last, at this risk, until the round after
    // Calls that can wait do, and come as one at the end; what can lose seedlings before then is called all the same:
    // "quietHours": { "from": "22:00", "to": "05:30" }   or per weekday: { "sat": { "from": "22:00", "to": "08:00" } }
  },

  // The monitor brings its own MQTT broker; from other machines it asks for user and password.
  "messaging": { "listenHost": "127.0.0.1", "listenPort": 1883 },
  "store": { "folder": "data" },
  "page": { "listenHost": "127.0.0.1", "listenPort": 8118 }
}
`;
}
