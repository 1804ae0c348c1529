import { afterEach, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { tryBroker } from '../../src/cli/check/try-broker.js';
import { describeIf } from '../helpers/needs.js';
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

  it('says where to look when the password is wrong', async () => {
    broker = await createMosquitto();
    expect(await tried({ password: 'wrong' })).toMatchObject({
      ok: false,
      sentence: expect.stringContaining('check messaging.user and messaging.password'),
    });
  });
});
