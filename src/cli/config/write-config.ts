import { LANGUAGES, type Language } from '../../../shared/base/language.js';
import type { Rounds, UnitsConfig } from '../../../shared/config/notices.js';

/** A board that was found, as it stands in the configuration. */
export interface FoundBoard {
  readonly id: string;
  readonly model: string;
  readonly serialNumber?: string;
  readonly port?: string;
}

/** A probe that was found. */
export interface FoundProbe {
  readonly id: string;
  readonly kind: string;
  readonly bench: string;
  readonly hookup: Readonly<Record<string, string>>;
}

/** What a new farm needs to begin; everything else has defaults or comes by command. */
export interface FirstFarm {
  readonly farm: string;
  readonly timeZone: string;
  readonly place?: { readonly latitude: number; readonly longitude: number } | undefined;
  readonly rounds: Rounds;
  readonly language: Language;
  readonly units: UnitsConfig;
  readonly benches: readonly string[];
  /** Calls when a bench is colder or hotter than this; benches of a farm that is changed may have limits of their own. */
  readonly limitsC?: { readonly low: number; readonly high: number } | 'various' | undefined;
  readonly boards: readonly FoundBoard[];
  readonly probes: readonly FoundProbe[];
}

/** JSON on one line, with the blanks that people write. */
export function jsonLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(jsonLine).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const entries = Object.entries(value).map(([key, one]) => `${JSON.stringify(key)}: ${jsonLine(one)}`);
  return entries.length === 0 ? '{}' : `{ ${entries.join(', ')} }`;
}

function place({ place: there }: FirstFarm): string {
  return there === undefined
    ? `  // "latitude": 52.1, "longitude": 9.9,   the season's daylight, if you like`
    : `  // the season's daylight\n  "latitude": ${there.latitude},\n  "longitude": ${there.longitude},`;
}

/** Items of a list, a line each. */
function items(all: readonly object[]): string {
  return all.map((one) => `    ${jsonLine(one)}`).join(',\n');
}

/** A commented configuration for a new farm. It holds no trays: those come by command, or are added by hand. */
export function firstConfigText(farm: FirstFarm): string {
  const bench = farm.benches[0] ?? 'south';
  const benches = farm.benches.map((id) => ({
    id,
    ...(typeof farm.limitsC === 'object' ? { temperatureLimitsC: farm.limitsC } : {}),
  }));
  const boards =
    farm.boards.length === 0
      ? '    // { "id": "board-1", "model": "uno", "serialNumber": "..." }'
      : items(farm.boards);
  const probes = farm.probes.length === 0 ? '' : `${items(farm.probes)}\n`;
  return `// Drybell configuration: JSON with comments. "drybell check" reads it and says what does not fit.
// Every key is explained in shared/schemas/farm-config.schema.json; a whole farm stands in shared/examples/alder-row.jsonc.
{
  "farm": ${JSON.stringify(farm.farm)},
  "timeZone": ${JSON.stringify(farm.timeZone)},
${place(farm)}

  // When somebody walks the benches. Per weekday: { "mon": ["07:00", "18:00"], "sun": ["08:30"] }
  "rounds": ${jsonLine(farm.rounds)},
  "language": ${jsonLine(farm.language)}, // of notices, calls, answers and the page: ${LANGUAGES.join(', ')}
  "units": ${jsonLine(farm.units)},
  "cadenceS": 60, // seconds between two readings of each probe

  "benches": [
${items(benches)}
  ],

  // What stands on the benches when you begin. Later: drybell tray new celery-1 --bench ${bench} --side mini --crop celery
  "trays": [
    // { "id": "celery-1", "bench": ${JSON.stringify(bench)}, "blockSideMm": 19, "blockCount": 280, "crop": "celery" }
  ],

  // The kit: hardware/README.md says what to build, "drybell wiring" draws it, "drybell probes --boards" lists boards.
  "boards": [
${boards}
  ],
  "probes": [
${probes}    // { "id": "temp-${bench}", "kind": "air-temperature", "bench": ${JSON.stringify(bench)}, "hookup": { "part": "sht31", "board": "board-1" } },
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
