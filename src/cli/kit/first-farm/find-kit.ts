import { readdirSync } from 'node:fs';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import { type BoardConfig, boardSchema } from '../../../../shared/config/kit/hookup.js';
import { probeSchema } from '../../../../shared/config/kit/probes.js';
import { type ListedPort, usbPorts } from '../../../board/serial/choose-port.js';
import { boardWords } from '../../../board/station/board-health.js';
import { createProbeReader, type ProbeReaderOptions } from '../../../board/station/probe-reader.js';
import type { Clock } from '../../../monitor/ports/ports.js';
import type { FoundBoard } from '../../config/write-config.js';

/** A part that answered, by what it measures. */
export interface FoundPart {
  /** `sht31 at 0x44` */
  readonly name: string;
  readonly kinds: readonly string[];
  readonly hookup: Readonly<Record<string, string>>;
}

export interface FoundKit {
  readonly boards: readonly {
    readonly board: FoundBoard;
    readonly state: string;
    readonly parts: readonly FoundPart[];
  }[];
  /** Probes on the computer's own 1-Wire line. */
  readonly own: readonly FoundPart[];
}

/** I2C parts that tell what they are by answering well at their address, and what each measures. */
const candidates: readonly FoundPart[] = [
  ...['0x44', '0x45'].map((address) => part('sht31', address, ['air-temperature', 'relative-humidity'])),
  ...['0x23', '0x5c'].map((address) => part('bh1750', address, ['light'])),
  ...['0x18', '0x19', '0x1a', '0x1b'].map((address) => part('mcp9808', address, ['air-temperature'])),
];

function part(name: string, address: string, kinds: readonly string[]): FoundPart {
  return { name: `${name} at ${address}`, kinds, hookup: { part: name, address } };
}

export interface KitPlaces extends Pick<ProbeReaderOptions, 'openTransport' | 'random'> {
  readonly clock: Clock;
  readonly ports: () => Promise<readonly ListedPort[]>;
  readonly w1Folder: string;
}

/** More than this a configuration does not hold. */
const MOST_BOARDS = 16;
const CONNECT_WITHIN_MS = 12_000;
const LOOK_AGAIN_MS = 100;

/**
 * Boards that are plugged in, the I2C parts that answer on each, and 1-Wire probes of this computer.
 * @param known boards and probes of the configuration, which are left out
 */
export async function findKit(
  places: KitPlaces,
  known: Pick<FarmConfig, 'boards' | 'probes'> = { boards: [], probes: [] },
): Promise<FoundKit> {
  const isKnown = ({ path, serialNumber, link }: ListedPort): boolean =>
    known.boards.some(
      (board) =>
        (serialNumber !== undefined && board.serialNumber === serialNumber) ||
        (board.port !== undefined && [path, link].includes(board.port)),
    );
  const takenIds = new Set(known.boards.map(({ id }) => id));
  const freeIds = Array.from({ length: MOST_BOARDS }, (_, n) => `board-${n + 1}`).filter(
    (id) => !takenIds.has(id),
  );
  const fresh = usbPorts(await places.ports()).filter((port) => !isKnown(port));
  const boards = fresh.slice(0, freeIds.length).map(({ path, serialNumber, link }, index): FoundBoard => {
    const id = freeIds[index] ?? '';
    return serialNumber === undefined
      ? { id, model: 'uno', port: link ?? path }
      : { id, model: 'uno', serialNumber };
  });
  return {
    boards: await Promise.all(boards.map(async (board) => ({ board, ...(await partsOf(board, places)) }))),
    own: w1Ids(places.w1Folder)
      .filter(
        (w1Id) => !known.probes.some(({ hookup }) => hookup?.part === 'ds18b20' && hookup.w1Id === w1Id),
      )
      .map((w1Id) => ({
        name: `ds18b20 ${w1Id}`,
        kinds: ['air-temperature'],
        hookup: { part: 'ds18b20', w1Id },
      })),
  };
}

/** Asks every candidate for a reading: a part that is there answers with numbers whose checksum is right. */
async function partsOf(
  board: FoundBoard,
  { clock, openTransport, random }: KitPlaces,
): Promise<{ readonly state: string; readonly parts: readonly FoundPart[] }> {
  const config: BoardConfig = boardSchema.parse(board);
  const probes = candidates.flatMap(({ kinds, hookup }, index) =>
    kinds.map((kind) =>
      probeSchema.parse({ id: `${kind}-${index}`, kind, bench: 'x', hookup: { ...hookup, board: board.id } }),
    ),
  );
  const reader = createProbeReader({ boards: [config], probes, clock, openTransport, random });
  try {
    const endMs = clock.monotonicMs() + CONNECT_WITHIN_MS;
    while (reader.health()[0]?.state === 'connecting' && clock.monotonicMs() < endMs)
      await clock.sleep(LOOK_AGAIN_MS);
    const [health] = reader.health();
    if (health?.state !== 'ready')
      return { state: health === undefined ? 'does not answer' : boardWords(health), parts: [] };
    const samples = await reader.sample(AbortSignal.timeout(CONNECT_WITHIN_MS));
    const answered = new Set(
      samples.flatMap(({ probeId, rawValue }) => (rawValue === undefined ? [] : [probeId])),
    );
    return {
      state: boardWords(health),
      parts: candidates
        .filter(({ kinds }, index) => kinds.every((kind) => answered.has(`${kind}-${index}`)))
        .map((one) => ({ ...one, hookup: { ...one.hookup, board: board.id } })),
    };
  } finally {
    await reader.close();
  }
}

function w1Ids(folder: string): readonly string[] {
  try {
    return readdirSync(folder).filter((name) => /^28-[0-9a-f]{12}$/.test(name));
  } catch (cause) {
    // a machine without 1-Wire has no such folder
    if (cause instanceof Error && 'code' in cause) return [];
    throw cause;
  }
}
