import { describe, expect, it } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import { listener } from './listener.js';
import { quietLog } from './quiet-log.js';

const at = '2026-04-18T05:00:00Z';

describe('publisher on its own broker', () => {
  it('tells an alarm, retained, and takes a command', async () => {
    const publisher = await createPublisher({
      farm: 'alder-row',
      config: messagingSchema.parse({ listenPort: 0 }),
      drive: 'demo',
      timeZone: 'Europe/Berlin',
      nowMs: () => Date.parse(at),
      log: quietLog,
    });
    publisher.onCommand((command, ref) => {
      void publisher.tell([
        { kind: 'answer', answer: { ref, at, ok: true, code: 'done', sentence: `did ${command.do}` } },
      ]);
    });
    await publisher.tell([
      { kind: 'alarm', transition: { at, kind: 'refill', state: 'unacknowledged', tray: 't1' } },
      {
        kind: 'reading',
        reading: {
          probeId: 'temp-south',
          observedAtMs: Date.parse(at),
          rawValue: 21.5,
          rawUnit: 'Cel',
          waterContentM3PerM3: undefined,
          flag: 1,
          flagReasons: [],
          calibrationId: undefined,
        },
      },
    ]);
    const phone = await listener(publisher.address(), ['drybell/#']);
    const alarm = await phone.next((message) => message.topic === 'drybell/alder-row/alarm/t1/refill');
    expect(alarm.retain).toBe(true);
    expect(JSON.parse(alarm.text)).toMatchObject({ state: 'unacknowledged', tray: 't1' });
    phone.send('drybell/alder-row/command/a1', '{"do":"round-done"}');
    const reply = await phone.next((message) => message.topic === 'drybell/alder-row/reply/a1');
    expect(JSON.parse(reply.text)).toMatchObject({ ref: 'a1', ok: true, sentence: 'did round-done' });
    await phone.close();
    await publisher.close();
  });
});
