import { afterEach, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { tryBroker } from '../../src/cli/kit/trying/try-broker.js';
import { describeIf } from '../helpers/needs.js';
import { listener } from './listener.js';
import { createMosquitto, LOGIN, type Mosquitto } from './mosquitto.js';

describeIf('mosquitto', 'drybell check at a mosquitto', () => {
  let broker: Mosquitto | undefined;

  const tried = (messaging: object) =>
    tryBroker(
      farmConfigSchema.parse({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        messaging: { url: `mqtt://127.0.0.1:${broker?.port}`, ...LOGIN, ...messaging },
      }),
    );

  afterEach(async () => {
    await broker?.close();
  });

  it('is content when what it says comes back', async () => {
    broker = await createMosquitto({ acl: [`user ${LOGIN.user}`, 'topic readwrite drybell/alder-row/#'] });
    expect(await tried({})).toMatchObject({ ok: true });
  });

  it('names the rule that is missing when the broker throws away what it acknowledges', async () => {
    broker = await createMosquitto({ acl: [`user ${LOGIN.user}`, 'topic read drybell/alder-row/#'] });
    expect(await tried({})).toMatchObject({
      ok: false,
      sentence: expect.stringContaining('allow this user to write and read drybell/alder-row/#'),
    });
  });

  it('names the topics that are left out: answers may be said and not read, readings not said', async () => {
    broker = await createMosquitto({
      acl: [
        `user ${LOGIN.user}`,
        'topic readwrite drybell/alder-row/#',
        'topic deny drybell/alder-row/reading/#',
        'topic deny drybell/alder-row/reply/#',
      ],
    });
    expect(await tried({})).toMatchObject({
      ok: false,
      sentence: expect.stringMatching(
        /does not hand on what is said at drybell\/alder-row\/reading\/\{probe\}, drybell\/alder-row\/reply\/\{ref\}; allow/,
      ),
    });
  });

  it('rings nobody', async () => {
    broker = await createMosquitto();
    const phone = await listener(`mqtt://127.0.0.1:${broker.port}`, ['drybell/alder-row/#'], {
      username: LOGIN.user,
      password: LOGIN.password,
    });
    expect(await tried({})).toMatchObject({ ok: true });
    await phone.next(({ topic }) => topic.includes('/reply/'));
    expect(phone.heard.filter(({ topic, text }) => text !== '' || /call$/.test(topic))).toEqual([]);
    await phone.close();
  });

  it('says where to look when the password is wrong', async () => {
    broker = await createMosquitto();
    expect(await tried({ password: 'wrong' })).toMatchObject({
      ok: false,
      sentence: expect.stringContaining('check messaging.user and messaging.password'),
    });
  });
});
