import { afterEach, describe, expect, it } from 'vitest';
import { type EmbeddedBroker, openEmbeddedBroker } from '../../src/messaging/embedded/embedded-broker.js';
import { listener } from './listener.js';
import { rememberingLog } from './quiet-log.js';
import { loginCode, rawClient, rawLogin } from './raw-client.js';

const CALL = 'drybell/alder-row/call';
const phoneLogin = { user: 'anna', password: 'seven wet benches', may: 'command' } as const;

describe('doors of the own broker', () => {
  let broker: EmbeddedBroker | undefined;
  let book = rememberingLog();
  const open = async (options: Partial<Parameters<typeof openEmbeddedBroker>[0]> = {}) => {
    book = rememberingLog();
    const { log } = book;
    broker = await openEmbeddedBroker({ farm: 'alder-row', host: '127.0.0.1', port: 0, log, ...options });
    return broker;
  };
  const shownOut = () => book.events.filter(({ event }) => event === 'broker-shown-out');
  afterEach(() => broker?.close());

  it('a subscriber that reads nothing holds back nobody, and is hung up on', async () => {
    const { address, say } = await open();
    const stalled = await rawLogin(address, 'stalled');
    stalled.send({ cmd: 'subscribe', messageId: 1, subscriptions: [{ topic: '#', qos: 1 }] });
    stalled.socket.pause();
    const phone = await listener(address, [CALL]);
    const payload = 'x'.repeat(16_384);
    for (let number = 0; number < 600; number++)
      await say({ topic: 'drybell/alder-row/readings', payload, retain: false });
    await say({ topic: CALL, payload: 'water t1', retain: false });
    expect((await phone.next(({ topic }) => topic === CALL)).text).toBe('water t1');
    expect(shownOut()).toMatchObject([{ fields: { client: 'stalled', why: 'reads-too-slowly' } }]);
    stalled.socket.destroy();
    await phone.close();
  });

  it('hangs up on who announces 120 MB, before and after the login', async () => {
    const { address } = await open();
    const stranger = await rawClient(address);
    // CONNECT and PUBLISH with a remaining length of 120 MB, MQTT 3.1.1 §2.2.3
    stranger.socket.write(Buffer.from([0x10, 0x80, 0x9c, 0x9c, 0x39]));
    await stranger.hungUp;
    const friend = await rawLogin(address, 'friend');
    friend.socket.write(Buffer.from([0x30, 0x80, 0x9c, 0x9c, 0x39]));
    await friend.hungUp;
    expect(shownOut().map(({ fields }) => fields)).toMatchObject([
      { why: 'packet-too-large' },
      { client: 'friend', why: 'packet-too-large' },
    ]);
  });

  it('of those who never log in the one that waited longest gives way to a phone', async () => {
    const { address } = await open();
    const idle = [];
    for (let number = 0; number < 32; number++) idle.push(await rawClient(address, '127.0.0.9'));
    const phone = await listener(address, [CALL]);
    await idle[0]?.hungUp;
    expect(shownOut()).toMatchObject([{ fields: { from: '127.0.0.9', why: 'gave-way' } }]);
    for (const { socket } of idle) socket.destroy();
    await phone.close();
  });

  it('lets who guesses passwords wait, and nobody else', async () => {
    let nowMs = 0;
    const { address } = await open({ logins: [phoneLogin], monotonicMs: () => nowMs });
    const login = (password: string, from: string) => loginCode(address, from, 'anna', password);
    for (let number = 0; number < 5; number++) expect(await login(`guess ${number}`, '127.0.0.9')).toBe(4);
    expect(await login(phoneLogin.password, '127.0.0.9')).toBe(3);
    expect(await login(phoneLogin.password, '127.0.0.8')).toBe(0);
    nowMs += 1_000;
    expect(await login(phoneLogin.password, '127.0.0.9')).toBe(0);
    expect(book.events.filter(({ event }) => event === 'broker-login-refused')).toHaveLength(5);
  });

  it('a flood of one client delays no other, and is lost to nobody', async () => {
    const { address } = await open();
    const witness = await listener(address, ['drybell/alder-row/command/#']);
    const flood = await rawLogin(address, 'flood', '127.0.0.9');
    const command = { cmd: 'publish', qos: 0, dup: false, retain: false } as const;
    for (let number = 0; number < 20_000; number++)
      flood.send({ ...command, topic: 'drybell/alder-row/command', payload: `${number}` });
    await witness.next(({ text }) => text === '50');
    const phone = await listener(address, []);
    phone.send('drybell/alder-row/command', 'from the phone');
    await witness.next(({ text }) => text === 'from the phone');
    // the burst that anybody has, and what its pace adds meanwhile
    expect(witness.heard.length).toBeLessThan(1_000);
    const texts = witness.heard.map(({ text }) => text).filter((text) => text !== 'from the phone');
    expect(texts).toEqual(texts.map((_, number) => `${number}`));
    flood.socket.destroy();
    await Promise.all([phone.close(), witness.close()]);
  });

  it('lets a display listen, and a gateway deliver and hear nothing of the farm', async () => {
    const reading = 'gateway/moist-t1';
    const { address, say } = await open({
      logins: [
        phoneLogin,
        { user: 'display', password: 'only looking', may: 'listen' },
        { user: 'gateway', password: 'brings readings', may: 'deliver' },
      ],
      readingTopics: [reading],
    });
    const as = (username: string, password: string, filters: string[] = []) =>
      listener(address, filters, { username, password, reconnectPeriod: 0 });
    const refused = async (username: string, password: string, topic: string) => {
      const client = await as(username, password);
      const hungUp = new Promise<void>((resolve) => client.client.once('close', () => resolve()));
      client.client.publish(topic, 'no', { qos: 0 });
      await hungUp;
    };
    const phone = await as('anna', phoneLogin.password, ['#']);
    const display = await as('display', 'only looking', ['#']);
    const gateway = await as('gateway', 'brings readings', ['#']);
    await refused('display', 'only looking', 'drybell/alder-row/command');
    await refused('display', 'only looking', reading);
    await refused('gateway', 'brings readings', 'drybell/alder-row/command');
    await refused('anna', phoneLogin.password, reading);
    await refused('anna', phoneLogin.password, 'drybell/alder-row/readings/moist-t1');
    await say({ topic: CALL, payload: 'water t1', retain: false });
    gateway.send(reading, '1.9');
    phone.send('drybell/alder-row/command', 'yes');
    for (const client of [phone, display]) {
      await client.next(({ text }) => text === 'yes');
      await client.next(({ text }) => text === '1.9');
      expect(client.heard.map(({ text }) => text).sort()).toEqual(['1.9', 'water t1', 'yes']);
    }
    expect(gateway.heard.map(({ text }) => text)).toEqual(['1.9']);
    await Promise.all([phone.close(), display.close(), gateway.close()]);
  });
});
