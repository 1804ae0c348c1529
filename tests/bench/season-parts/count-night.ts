import { EventEmitter } from 'node:events';
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { queryObjects, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/** What could pile up, counted after the garbage was collected. */
export interface Night {
  readonly day: number;
  readonly heapMb: number;
  readonly residentMb: number;
  readonly storeMb: number;
  readonly outboxMb: number;
  readonly brokerMb: number;
  /** Those that keep nothing alive too. */
  readonly timers: number;
  readonly handles: number;
  /** Every emitter that is still reachable, and every abort signal: what listeners hang on. */
  readonly emitters: number;
  readonly signals: number;
}

const MB = 2 ** 20;

setFlagsFromString('--expose-gc');
const collectGarbage = runInNewContext('gc') as () => void;

type AnyClass = abstract new (...made: never[]) => object;

/** Objects of a class that are still reachable; Node's types know the question by another shape of class. */
const live = (kind: AnyClass): number =>
  queryObjects(kind as unknown as typeof EventEmitter, { format: 'count' }) as unknown as number;

function timerClass(): AnyClass {
  const timer = setTimeout(() => undefined, 0);
  clearTimeout(timer);
  return timer.constructor as AnyClass;
}

function bytesOf(folder: string, begins: string): number {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.startsWith(begins))
    .map((name) => statSync(join(folder, name), { throwIfNoEntry: false }))
    .reduce((sum, stat) => sum + (stat?.isFile() === true ? stat.size : 0), 0);
}

/** Counts this process and the farm's folder. */
export function countNight(folder: string, day: number): Night {
  collectGarbage();
  const { heapUsed, external, rss } = process.memoryUsage();
  const resources = process.getActiveResourcesInfo();
  return {
    day,
    heapMb: (heapUsed + external) / MB,
    residentMb: rss / MB,
    storeMb: bytesOf(folder, 'drybell.db') / MB,
    outboxMb: bytesOf(folder, 'outbox') / MB,
    brokerMb: bytesOf(folder, 'broker') / MB,
    timers: live(timerClass()),
    handles: resources.filter((name) => name !== 'Timeout' && name !== 'Immediate').length,
    emitters: live(EventEmitter),
    signals: live(AbortSignal),
  };
}
