import { spawnSync } from 'node:child_process';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import type { WatchmanHealth } from '../../src/watering/desk/watering-desk.js';
import { createDemoFarm } from './demo-farm.js';

/** The reference parser of OpenMetrics, from Debian's python3-prometheus-client; what it reads as JSON. */
const PARSE = `
import sys, json
from prometheus_client.openmetrics.parser import text_string_to_metric_families
families = text_string_to_metric_families(sys.stdin.read())
print(json.dumps([[f.name, f.type, f.unit, [[s.name, s.labels, s.value] for s in f.samples]] for f in families]))`;
const python = (script: string, input = '') =>
  spawnSync('/usr/bin/python3', ['-c', script], { input, encoding: 'utf8' });
const hasParser = python('import prometheus_client.openmetrics.parser').status === 0;
if (!hasParser && process.env['DRYBELL_NO_SKIPS'] === '1')
  throw new Error('python3-prometheus-client is not installed, and skips are failures here');

describe('what watches the watchman', () => {
  let page: RunningPage;
  let locked: RunningPage;
  let health: WatchmanHealth[] = [];
  let standstillMs = 0;
  beforeAll(async () => {
    const farm = await createDemoFarm();
    const live = { ...farm.feed, present: () => ({ ...farm.feed.present(), health }) };
    const vitals = () => ({ version: '1', startedAtMs: 5000, residentBytes: 9e7, cpuS: 1.5, standstillMs });
    const options = { queries: farm.store, live, vitals, listenHost: '127.0.0.1', listenPort: 0 };
    page = await startPage({ ...options, config: farm.config });
    const config = { ...farm.config, page: { ...farm.config.page, accessWord: 'wet thumbs' } };
    locked = await startPage({ ...options, config });
  });
  afterAll(() => Promise.all([page.close(), locked.close()]));
  const ask = async (at: RunningPage, path: string, authorization = '') => {
    const answer = await fetch(new URL(path, at.address), { headers: { authorization } });
    return { status: answer.status, type: answer.headers.get('content-type'), text: await answer.text() };
  };

  it('/healthz is 200 and "ok", or 503 and says what is wrong in a word; names only to who may know', async () => {
    health = [{ kind: 'board', source: 'uno', ok: true, reason: 'ready' }];
    expect(await ask(page, '/healthz')).toMatchObject({ status: 200, text: 'ok\n' });
    health = [{ kind: 'board', source: 'uno', ok: false, reason: 'silent' }];
    expect(await ask(page, '/healthz')).toMatchObject({ status: 503, text: 'board silent uno\n' });
    expect(await ask(locked, '/healthz')).toMatchObject({ status: 503, text: 'board silent\n' });
    health = [];
    standstillMs = 200_000;
    expect(await ask(page, '/healthz')).toMatchObject({
      status: 503,
      text: 'monitor stands-still monitor\n',
    });
    standstillMs = 0;
  });

  it('/metrics asks for the word where the page does, and guessing it is slowed', async () => {
    expect((await ask(locked, '/metrics')).status).toBe(401);
    expect((await ask(locked, '/metrics', 'Bearer wet thumbs')).status).toBe(200);
    const wrong = [];
    for (let n = 0; n < 6; n++) wrong.push((await ask(locked, '/metrics', 'Bearer dry thumbs')).status);
    expect(wrong).toEqual([403, 403, 403, 403, 403, 429]);
  });

  it.skipIf(!hasParser)('/metrics is OpenMetrics to its reference parser, with the farm in it', async () => {
    health = [{ kind: 'probe', source: 'odd "name"\\', ok: false, reason: 'silent' }];
    const { type, text } = await ask(page, '/metrics');
    expect(type).toBe('application/openmetrics-text; version=1.0.0; charset=utf-8');
    const { stdout, stderr } = python(PARSE, text);
    expect(stderr).toBe('');
    const families = new Map(
      (JSON.parse(stdout) as [string, string, string, [string, object, number][]][]).map((one) => [
        one[0],
        one,
      ]),
    );
    expect(families.get('drybell_part_ok')?.[3]).toEqual([
      ['drybell_part_ok', { kind: 'probe', source: 'odd "name"\\' }, 0],
    ]);
    expect(families.get('process_cpu_seconds')).toEqual([
      'process_cpu_seconds',
      'counter',
      'seconds',
      [['process_cpu_seconds_total', {}, 1.5]],
    ]);
    expect(families.get('drybell_tray_hours_to_refill')?.[3].length).toBeGreaterThan(0);
    expect(python(PARSE, text.replace('# EOF\n', '')).status).not.toBe(0);
  });
});
