import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { messagingSchema } from '../../shared/config/messaging.js';
import { type EmbeddedBroker, openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { makeCertificates } from '../helpers/certificates.js';
import { describeIf } from '../helpers/needs.js';
import { alarmFact, callFact, START_MS } from './facts.js';
import { listener } from './listener.js';
import { quietLog, rememberingLog } from './quiet-log.js';

const login = { user: 'anna', password: 'seven wet benches' };

describe('own broker', () => {
  let broker: EmbeddedBroker | undefined;
  const open = async (options: Partial<Parameters<typeof openEmbeddedBroker>[0]> = {}) => {
    broker = await openEmbeddedBroker({
      farm: 'alder-row',
      host: '127.0.0.1',
      port: 0,
      log: quietLog,
      ...options,
    });
    return broker;
  };
  afterEach(async () => {
    await broker?.close();
    broker = undefined;
  });

  it('does not listen for others without user and password, and says what to do', async () => {
    await expect(open({ host: '0.0.0.0' })).rejects.toMatchObject({
      code: 'open-to-everyone',
      message: expect.stringContaining('set messaging.user and messaging.password'),
    });
    const problem = messagingSchema.safeParse({ listenHost: '192.168.1.5' });
    expect(problem.error?.issues).toMatchObject([{ path: ['listenHost'] }]);
    expect(messagingSchema.safeParse({ listenHost: '0.0.0.0', ...login }).success).toBe(true);
  });

  it('lets in who knows user and password, and nobody else', async () => {
    const { address } = await open({ host: '0.0.0.0', logins: [{ ...login, may: 'command' }] });
    const port = new URL(address).port;
    const connect = (username?: string, password?: string) =>
      listener(`mqtt://127.0.0.1:${port}`, ['#'], {
        reconnectPeriod: 0,
        ...(username === undefined ? {} : { username }),
        ...(password === undefined ? {} : { password }),
      });
    await expect(connect()).rejects.toMatchObject({ code: 4 });
    await expect(connect('anna', 'wrong')).rejects.toMatchObject({ code: 4 });
    await expect(connect('bert', login.password)).rejects.toMatchObject({ code: 4 });
    await (await connect(login.user, login.password)).close();
  });

  it('refuses MQTT 5 as the standard wants it, and the log names the client once', async () => {
    const notebook = rememberingLog();
    const { address } = await open({ log: notebook.log });
    const speaking5 = () =>
      listener(address, [], { protocolVersion: 5, clientId: 'anna-phone', reconnectPeriod: 0 });
    await expect(speaking5()).rejects.toMatchObject({ code: 1 });
    await expect(speaking5()).rejects.toMatchObject({ code: 1 });
    expect(notebook.events.filter(({ event }) => event === 'broker-mqtt-5-refused')).toMatchObject([
      { fields: { client: 'anna-phone' } },
    ]);
  });

  it('hangs up on a client that speaks as if it were the monitor; commands and other topics pass', async () => {
    const { address } = await open();
    const witness = await listener(address, ['#']);
    const forger = await listener(address, [], { reconnectPeriod: 0 });
    const hungUp = new Promise<void>((resolve) => forger.client.once('close', () => resolve()));
    forger.client.publish('drybell/alder-row/alarm/t1/dry', '{"state":"normal"}', { qos: 0 });
    await hungUp;
    const friend = await listener(address, []);
    friend.send('drybell/alder-row/command/a1', '{"do":"back"}');
    friend.send('greenhouse/door', 'open');
    await witness.next((message) => message.topic === 'greenhouse/door');
    expect(witness.heard.map((message) => message.topic)).toEqual([
      'drybell/alder-row/command/a1',
      'greenhouse/door',
    ]);
    await Promise.all([witness.close(), friend.close(), forger.close()]);
  });

  it('has kept what it says when `say` resolves: files as they stand then bring the call to a phone out of reach', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'drybell-own-'));
    const session = { clientId: 'phone-anna', clean: false };
    try {
      const running = await open({ folder: join(folder, 'running') });
      await (await listener(running.address, ['drybell/#'], session)).close();
      await running.say({ topic: 'drybell/alder-row/alarm/t1/dry', payload: 'dry', retain: true });
      await running.say({ topic: 'drybell/alder-row/call', payload: 'water t1', retain: false });
      // as a power cut leaves them: nothing is closed first
      cpSync(join(folder, 'running'), join(folder, 'cut'), { recursive: true });
      await running.close();
      const { address } = await open({ folder: join(folder, 'cut') });
      const phone = await listener(address, [], session);
      expect((await phone.next(({ topic }) => topic.endsWith('/call'))).text).toBe('water t1');
      await phone.close();
      const late = await listener(address, ['drybell/alder-row/alarm/#']);
      expect(await late.next(({ retain }) => retain)).toMatchObject({ text: 'dry' });
      await late.close();
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('hands on everything in order, though a retained message takes longer to keep than what comes behind it', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'drybell-own-'));
    try {
      const { address, say } = await open({ folder });
      const phone = await listener(address, ['#']);
      const numbers = Array.from({ length: 100 }, (_, number) => number);
      const alarm = 'drybell/alder-row/alarm/t1/dry';
      const told = numbers.flatMap((number) => [
        { topic: alarm, payload: `${number}`, retain: true },
        { topic: 'drybell/alder-row/call', payload: `${number}`, retain: false },
      ]);
      await Promise.all(told.map(say));
      await phone.next(({ topic, text }) => topic.endsWith('/call') && text === '99');
      expect(phone.heard.map(({ topic, text }) => `${topic} ${text}`)).toEqual(
        told.map(({ topic, payload }) => `${topic} ${payload}`),
      );
      const late = await listener(address, [alarm]);
      expect((await late.next(({ retain }) => retain)).text).toBe('99');
      const friend = await listener(address, []);
      for (const number of numbers) {
        friend.send('greenhouse/door', `${number}`, true);
        friend.client.publish('greenhouse/vent', `${number}`, { qos: 0 });
      }
      await phone.next(({ topic, text }) => topic === 'greenhouse/vent' && text === '99');
      await phone.next(({ topic, text }) => topic === 'greenhouse/door' && text === '99');
      expect(phone.heard.filter(({ topic }) => topic === 'greenhouse/door')).toHaveLength(100);
      await Promise.all([phone.close(), late.close(), friend.close()]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('lets nobody push the monitor out by its client id, or leave a will in its name', async () => {
    const { address } = await open();
    await expect(
      listener(address, [], { clientId: 'drybell-alder-row', reconnectPeriod: 0 }),
    ).rejects.toThrow();
    const witness = await listener(address, ['#']);
    const will = {
      topic: 'drybell/alder-row/status',
      payload: Buffer.from('{"online":false}'),
      qos: 1,
      retain: true,
    } as const;
    const forger = await listener(address, [], { reconnectPeriod: 0, will });
    const honest = await listener(address, [], {
      reconnectPeriod: 0,
      will: { topic: 'greenhouse/door', payload: Buffer.from('gone'), qos: 1, retain: false },
    });
    forger.client.stream.destroy();
    honest.client.stream.destroy();
    await witness.next((message) => message.topic === 'greenhouse/door');
    expect(witness.heard.map((message) => message.topic)).toEqual(['greenhouse/door']);
    await witness.close();
  });

  it('says which port is taken, and leaves nothing open', async () => {
    const first = await open({ webSocketPort: 0 });
    const port = Number(new URL(first.address).port);
    await expect(
      openEmbeddedBroker({ farm: 'alder-row', host: '127.0.0.1', port, log: quietLog }),
    ).rejects.toMatchObject({ code: 'port-taken', message: expect.stringContaining(`127.0.0.1:${port}`) });
    const webPort = Number(new URL(first.webSocketAddress ?? '').port);
    await expect(
      openEmbeddedBroker({
        farm: 'alder-row',
        host: '127.0.0.1',
        port: 0,
        webSocketPort: webPort,
        log: quietLog,
      }),
    ).rejects.toMatchObject({ code: 'port-taken', message: expect.stringContaining('listenWebSocketPort') });
    await expect(
      open({ host: 'no-such-host.invalid', logins: [{ ...login, may: 'command' }] }),
    ).rejects.toMatchObject({
      code: 'address-unusable',
    });
  });

  it('speaks MQTT over WebSocket', async () => {
    const { address, webSocketAddress } = await open({ webSocketPort: 0 });
    const witness = await listener(webSocketAddress ?? '', ['#']);
    const sender = await listener(address, []);
    sender.send('greenhouse/door', 'open');
    await witness.next((message) => message.text === 'open');
    await Promise.all([witness.close(), sender.close()]);
  });
});

describeIf('openssl', 'own broker with TLS', () => {
  it('is reached with the authority, and refuses plain talk', async () => {
    const files = makeCertificates();
    const publisher = await createPublisher({
      farm: 'alder-row',
      config: messagingSchema.parse({
        listenPort: 0,
        listenCertFile: files.cert,
        listenKeyFile: files.key,
        ...login,
      }),
      drive: 'live',
      timeZone: 'UTC',
      nowMs: () => START_MS,
      log: quietLog,
    });
    await publisher.tell([alarmFact('t1', 'unacknowledged')]);
    expect(publisher.address()).toMatch(/^mqtts:\/\/127\.0\.0\.1:\d+$/);
    const phone = await listener(publisher.address(), ['#'], {
      ca: readFileSync(files.ca),
      username: login.user,
      password: login.password,
    });
    await phone.next((message) => message.topic.endsWith('/t1/refill'));
    const plain = listener(publisher.address().replace('mqtts', 'mqtt'), [], {
      reconnectPeriod: 0,
      connectTimeout: 2_000,
    });
    await expect(plain).rejects.toThrow();
    await phone.close();
    await publisher.close();
    files.remove();
  });
});

describe('own broker with a folder', () => {
  let folder: string;
  const config = messagingSchema.parse({ listenPort: 0 });
  const open = (): Promise<Publisher> =>
    createPublisher({
      farm: 'alder-row',
      config,
      drive: 'live',
      timeZone: 'UTC',
      dataFolder: folder,
      nowMs: () => START_MS,
      log: quietLog,
    });
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-broker-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('keeps retained alarms and a phone’s session over a restart', async () => {
    let publisher = await open();
    const phone = await listener(publisher.address(), ['drybell/+/call'], {
      clientId: 'phone-anna',
      clean: false,
    });
    await phone.close();
    await publisher.tell([alarmFact('t1', 'unacknowledged'), callFact(['t1'], 'Tray t1 will not last.')]);
    await publisher.close();
    publisher = await open();
    const back = await listener(publisher.address(), [], { clientId: 'phone-anna', clean: false });
    await back.next((message) => message.text.includes('Tray t1 will not last.'));
    await back.close();
    const late = await listener(publisher.address(), ['drybell/+/alarm/#']);
    await late.next((message) => message.retain && message.topic.endsWith('/t1/refill'));
    await late.close();
    await publisher.close();
  });

  it('is not opened twice', async () => {
    const publisher = await open();
    await expect(open()).rejects.toMatchObject({
      code: 'folder-in-use',
      message: expect.stringContaining('another Drybell uses it'),
    });
    await publisher.close();
  });
});
