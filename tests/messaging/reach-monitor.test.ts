import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { reachMonitor } from '../../src/cli/asking/reach-monitor.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import type { Publisher } from '../../src/monitor/ports/ports.js';
import { type Certificates, makeCertificates } from '../helpers/certificates.js';
import { describeIf } from '../helpers/needs.js';
import { START_MS } from './facts.js';
import { freePort } from './free-port.js';
import { createMosquitto, LOGIN, type Mosquitto } from './mosquitto.js';
import { quietLog } from './quiet-log.js';

describeIf('openssl', 'the command line reaches the monitor by its configuration alone', () => {
  let folder: string;
  let config: string;
  let publisher: Publisher | undefined;
  let mosquitto: Mosquitto | undefined;
  const made: Certificates[] = [];

  const certificates = (names?: string): Certificates => {
    const files = makeCertificates(30, names);
    made.push(files);
    return files;
  };
  const openWith = async (messaging: object) => {
    const text = JSON.stringify({
      farm: 'alder-row',
      benches: [{ id: 'south' }],
      messaging: { ...messaging, ...LOGIN },
    });
    writeFileSync(config, text);
    publisher = await createPublisher({
      farm: 'alder-row',
      config: farmConfigSchema.parse(JSON.parse(text)).messaging,
      drive: 'live',
      timeZone: 'UTC',
      nowMs: () => START_MS,
      log: quietLog,
    });
  };
  const farmReached = async () => {
    const { monitor } = await reachMonitor({ config });
    await monitor.close();
    return monitor.farm;
  };

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-reach-'));
    config = join(folder, 'drybell.json');
  });

  afterEach(async () => {
    await publisher?.close();
    await mosquitto?.close();
    publisher = undefined;
    mosquitto = undefined;
    for (const files of made.splice(0)) files.remove();
    rmSync(folder, { recursive: true });
  });

  it('although the certificate of the own broker is for the name that phones use', async () => {
    const { cert, key } = certificates('DNS:farm-pi.local');
    await openWith({ listenPort: await freePort(), listenCertFile: cert, listenKeyFile: key });
    expect(await farmReached()).toBe('alder-row');
  });

  it('and trusts no other certificate there', async () => {
    const own = certificates('DNS:farm-pi.local');
    const other = certificates();
    const listenPort = await freePort();
    await openWith({ listenPort, listenCertFile: own.cert, listenKeyFile: own.key });
    writeFileSync(
      config,
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        messaging: { listenPort, listenCertFile: other.cert, listenKeyFile: other.key, ...LOGIN },
      }),
    );
    await expect(farmReached()).rejects.toMatchObject({
      code: 'no-monitor',
      message: expect.stringContaining('its authority is not known here'),
    });
  });

  describeIf('mosquitto', 'over a mosquitto', () => {
    it('that wants a certificate of its clients', async () => {
      const files = certificates();
      mosquitto = await createMosquitto({ tls: files, clientCertificates: true });
      await openWith({
        url: `mqtts://127.0.0.1:${mosquitto.tlsPort}`,
        caFile: files.ca,
        certFile: files.cert,
        keyFile: files.key,
      });
      await expect.poll(() => publisher?.health().ok, { timeout: 10_000 }).toBe(true);
      await expect.poll(farmReached, { timeout: 10_000 }).toBe('alder-row');
    });
  });
});
