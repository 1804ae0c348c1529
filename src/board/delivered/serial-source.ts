import type { Duplex } from 'node:stream';
import type { Clock, Delivery, DeliverySource } from '../../monitor/ports/ports.js';
import { createLineCutter } from './line-cutter.js';

/** A stick that was pulled is back within this (judgement). */
const againMs = 5_000;

/** JSON lines from a serial port: opened, and opened again when it goes away. */
export function openSerialSource(
  port: string,
  open: () => Promise<Duplex>,
  { clock, nowMs }: { readonly clock: Clock; readonly nowMs: () => number },
): DeliverySource {
  const listeners: ((delivery: Delivery) => void)[] = [];
  const stop = new AbortController();
  let trouble: string | undefined = `${port} is not open yet`;
  let stream: Duplex | undefined;

  async function readOn(opened: Duplex): Promise<void> {
    stream = opened;
    trouble = undefined;
    opened.setEncoding('utf8');
    const cut = createLineCutter((text) => {
      for (const listener of listeners) listener({ text, arrivedAtMs: nowMs(), retained: false });
    });
    opened.on('data', (piece: string) => cut(piece));
    await new Promise<void>((resolve) => {
      opened.once('close', resolve);
      opened.once('error', () => resolve());
    });
    stream = undefined;
    trouble = `${port} was unplugged`;
  }

  async function run(): Promise<void> {
    while (!stop.signal.aborted) {
      try {
        await readOn(await open());
      } catch (cause) {
        trouble = cause instanceof Error ? cause.message : String(cause);
      }
      await clock.sleep(againMs, stop.signal).catch(() => undefined);
    }
  }
  const running = run();
  return {
    onDelivery: (listener) => void listeners.push(listener),
    trouble: () => trouble,
    async close() {
      stop.abort();
      stream?.destroy();
      await running;
    },
  };
}
