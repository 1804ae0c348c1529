import { idSchema } from '../../../../shared/base/ids.js';
import { didYouMean } from '../../../watering/sentences/words/did-you-mean.js';
import type { FirstFarm, FoundProbe } from '../../config/write-config.js';
import { BadWord } from '../../terminal/typed/bad-word.js';
import type { FoundKit, FoundPart } from './find-kit.js';

/** A question about a part that was found. */
export interface KitQuestion {
  readonly key: string;
  readonly words: string;
  readonly now: string;
  readonly read: (typed: string, farm: FirstFarm) => FirstFarm;
}

const NONE = 'none';
const shortKind: Readonly<Record<string, string>> = {
  'air-temperature': 'temp',
  'relative-humidity': 'rh',
  light: 'light',
};

/** `temp-south`, or `temp-south-2` where that is taken. */
function freeId(kind: string, bench: string, taken: ReadonlySet<string>): string {
  const name = `${shortKind[kind] ?? kind}-${bench}`;
  for (let n = 1; ; n++) {
    const id = idSchema.parse(n === 1 ? name : `${name}-${n}`);
    if (!taken.has(id)) return id;
  }
}

function probesOf(part: FoundPart, bench: string, taken: ReadonlySet<string>): FoundProbe[] {
  return part.kinds.map((kind) => ({ id: freeId(kind, bench, taken), kind, bench, hookup: part.hookup }));
}

/** The bench that has the fewest parts of this kind, the first of them. */
function likelyBench(part: FoundPart, { benches, probes }: FirstFarm): string {
  const count = (bench: string): number =>
    probes.filter((probe) => probe.bench === bench && part.kinds.includes(probe.kind)).length;
  const fewest = Math.min(...benches.map(count));
  return benches.find((bench) => count(bench) === fewest) ?? NONE;
}

/** Asked in its turn, for the answers before decide what is suggested; undefined where they left nothing to ask. */
export type InTurn = (farm: FirstFarm) => KitQuestion | undefined;

/**
 * What is to be asked about what was found.
 * @param taken names of probes that the configuration has
 */
export function kitQuestions(kit: FoundKit, taken: ReadonlySet<string>): readonly InTurn[] {
  const boards = kit.boards.flatMap(({ board, parts }) => [
    () => ({
      key: `board ${board.serialNumber ?? board.port}`,
      words: `A board is plugged in (${board.serialNumber ?? board.port}); use it`,
      now: 'yes',
      read: (typed: string, farm: FirstFarm) => {
        if (!/^(y|yes|n|no)$/i.test(typed)) throw new BadWord(`"${typed}": expected yes or no`);
        return /^y/i.test(typed) ? { ...farm, boards: [...farm.boards, board] } : farm;
      },
    }),
    ...parts.map((part) => partQuestion(part, taken, board.id)),
  ]);
  return [...boards, ...kit.own.map((part) => partQuestion(part, taken))];
}

function partQuestion(part: FoundPart, taken: ReadonlySet<string>, boardId?: string): InTurn {
  return (farm) => {
    if (boardId !== undefined && !farm.boards.some(({ id }) => id === boardId)) return undefined;
    return {
      key: `part ${boardId ?? 'own'} ${part.name}`,
      words: `${part.name} answers; on which bench is it (${farm.benches.join(', ')}, or none)`,
      now: likelyBench(part, farm),
      read: (typed, before) => {
        if (typed.toLowerCase() === NONE) return before;
        if (!before.benches.includes(typed))
          throw new BadWord(
            `there is no bench "${typed}".${didYouMean(typed, before.benches)} Benches are: ${before.benches.join(', ')}`,
          );
        const all = new Set([...taken, ...before.probes.map(({ id }) => id)]);
        return { ...before, probes: [...before.probes, ...probesOf(part, typed, all)] };
      },
    };
  };
}
