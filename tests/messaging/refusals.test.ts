import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import { messagingSchema } from '../../shared/config/messaging.js';
import type { Answer } from '../../shared/wire/command.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { START_MS } from './facts.js';
import { type Listener, listener } from './listener.js';
import { rememberingLog } from './quiet-log.js';

describe('a command that is refused', () => {
  let publisher: Publisher;
  let phone: Listener;
  const notebook = rememberingLog();
  const logged = () => notebook.events.filter(({ event }) => event === 'command-refused');

  beforeEach(async () => {
    publisher = await createPublisher({
      farm: 'alder-row',
      config: messagingSchema.parse({ listenPort: 0 }),
      drive: 'live',
      timeZone: 'UTC',
      nowMs: () => START_MS,
      log: notebook.log,
    });
    phone = await listener(publisher.address(), ['drybell/alder-row/reply/+']);
  });

  afterEach(async () => {
    await phone.close();
    await publisher.close();
  });

  it('is answered and logged once, whether its text is no command or the desk says no', async () => {
    const no: Answer = {
      ref: 'b2',
      at: toInstant(START_MS),
      ok: false,
      code: 'unknown-tray',
      sentence: 'There is no tray "nosuch".',
    };
    publisher.onCommand(() => void publisher.tell([{ kind: 'answer', answer: no }], 'turn-1'));
    phone.send('drybell/alder-row/command/b1', '{"do":');
    await phone.next(({ topic }) => topic.endsWith('/b1'));
    phone.send('drybell/alder-row/command/b2', '{"do":"end","tray":"nosuch"}');
    await phone.next(({ topic }) => topic.endsWith('/b2'));
    await publisher.tell([{ kind: 'answer', answer: no }], 'turn-1');
    const { ref, code, sentence } = no;
    expect(logged().map(({ fields }) => fields)).toEqual([
      expect.objectContaining({ ref: 'b1', code: 'not-json' }),
      { ref, code, sentence },
    ]);
  });

  it('says where a time means nothing, and does not do it', async () => {
    let heard = 0;
    publisher.onCommand(() => {
      heard += 1;
    });
    const away = { do: 'away', until: '2026-04-18T19:00:00Z', at: '2026-04-18T05:00:00Z' };
    phone.send('drybell/alder-row/command/a1', JSON.stringify(away));
    const { text } = await phone.next(({ topic }) => topic.endsWith('/a1'));
    expect(JSON.parse(text)).toMatchObject({
      ok: false,
      code: 'bad-command',
      sentence: 'Nothing was changed: "away" counts from the moment it is told; leave "at" out.',
    });
    expect(heard).toBe(0);
  });
});
