import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { journalAnswerSchema } from '../../shared/page/page-journal.js';
import { pagePatchSchema, pagePresentSchema } from '../../shared/page/page-present.js';
import {
  cameTrueAnswerSchema,
  curvesAnswerSchema,
  probesAnswerSchema,
  trayCurveAnswerSchema,
  waterAnswerSchema,
} from '../../shared/page/page-review.js';
import { answerSchema } from '../../shared/wire/command.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';
import { eventsOf } from './page-events.js';

let farm: DemoFarm;
let page: RunningPage;
let locked: RunningPage;

beforeAll(async () => {
  farm = await createDemoFarm();
  const options = { queries: farm.store, live: farm.feed, listenHost: '127.0.0.1', listenPort: 0 };
  page = await startPage({ ...options, config: farm.config });
  const config = { ...farm.config, page: { ...farm.config.page, accessWord: 'wet thumbs' } };
  locked = await startPage({ ...options, config });
});
afterAll(async () => {
  await page.close();
  await locked.close();
});

interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly text: string;
}

/** A request with any headers, Host included, which fetch does not allow. */
function ask(
  path: string,
  headers: Record<string, string> = {},
  body?: string,
  at = page,
  from = '127.0.0.1',
): Promise<Reply> {
  return new Promise((resolve, reject) => {
    const options = { port: at.port, path, method: body === undefined ? 'GET' : 'POST', headers };
    const sent = request({ host: '127.0.0.1', localAddress: from, ...options }, (response) => {
      let text = '';
      response.setEncoding('utf8');
      response.on('data', (chunk: string) => {
        text += chunk;
      });
      response.on('end', () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, text }),
      );
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

const code = ({ text }: Reply): string => (JSON.parse(text) as { code: string }).code;
const json = { 'content-type': 'application/json' };

describe('who may ask', () => {
  it('refuses a request under a foreign name, which is how DNS rebinding comes', async () => {
    const reply = await ask('/api/present', { host: 'evil.example:8118' });
    expect([reply.status, code(reply)]).toEqual([421, 'unknown-host']);
  });

  it.each(['127.0.0.1:1', 'localhost', '192.168.4.20:8118', '[::1]:8118'])(
    'answers under %s',
    async (host) => {
      expect((await ask('/api/present', { host })).status).toBe(200);
    },
  );

  it('refuses a command that another site sends, and does nothing', async () => {
    const before = farm.commands.length;
    const body = JSON.stringify({ do: 'round-done' });
    for (const headers of [
      { origin: 'http://evil.example' },
      { origin: 'null' },
      { 'sec-fetch-site': 'cross-site' },
    ] as Record<string, string>[]) {
      const reply = await ask('/api/command', { ...json, ...headers }, body);
      expect([reply.status, code(reply)]).toEqual([403, 'other-site']);
    }
    const form = await ask('/api/command', { 'content-type': 'text/plain' }, body);
    expect([form.status, code(form)]).toEqual([415, 'not-json']);
    expect(farm.commands.length).toBe(before);
  });

  it('sends headers that keep the page to itself', async () => {
    const { headers } = await ask('/');
    expect(headers['content-security-policy']).toMatch(/^default-src 'none'; script-src 'self'/);
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['referrer-policy']).toBe('no-referrer');
  });

  it('has nothing outside its own files', async () => {
    for (const path of ['/../package.json', '/%2e%2e/package.json', '/etc/passwd', '/api/nothing'])
      expect((await ask(path)).status).toBe(404);
  });
});

describe('the access word', () => {
  it('keeps everything about the farm back until the word is said, then remembers the phone', async () => {
    expect((await ask('/api/present', {}, undefined, locked)).status).toBe(401);
    expect((await ask('/api/live', {}, undefined, locked)).status).toBe(401);
    expect((await ask('/', {}, undefined, locked)).text).not.toContain('celery');
    expect((await ask('/api/command', json, '{"do":"back"}', locked)).status).toBe(401);
    const entered = await ask('/api/enter', json, '{"word":"wet thumbs"}', locked);
    expect(entered.status).toBe(200);
    const cookie = String(entered.headers['set-cookie']);
    expect(cookie).toContain('HttpOnly; SameSite=Strict');
    const known = { cookie: cookie.split(';')[0] ?? '' };
    expect((await ask('/api/present', known, undefined, locked)).status).toBe(200);
  });

  it('slows guessing', async () => {
    const codes: string[] = [];
    for (let guess = 0; guess < 6; guess++)
      codes.push(code(await ask('/api/enter', json, JSON.stringify({ word: `guess ${guess}` }), locked)));
    expect(codes).toEqual([...Array<string>(5).fill('wrong-word'), 'too-many-tries']);
    expect(code(await ask('/api/enter', json, '{"word":"wet thumbs"}', locked))).toBe('too-many-tries');
    const elsewhere = await ask('/api/enter', json, '{"word":"wet thumbs"}', locked, '127.0.0.9');
    expect(elsewhere.status).toBe(200);
  });
});

describe('answers are what their schemas say', () => {
  it.each([
    ['/api/present', pagePresentSchema],
    ['/api/curves', curvesAnswerSchema],
    ['/api/curves?bench=south&months=4,5&stage=growing&vpd=dry', curvesAnswerSchema],
    ['/api/came-true?stage=growing', cameTrueAnswerSchema],
    ['/api/tray/t1/curve?buckets=200', trayCurveAnswerSchema],
    ['/api/tray/t2/curve', trayCurveAnswerSchema],
    ['/api/water', waterAnswerSchema],
    ['/api/probes', probesAnswerSchema],
    ['/api/journal?limit=50', journalAnswerSchema],
    ['/api/journal?kinds=note,watering', journalAnswerSchema],
  ])('%s', async (path, schema) => {
    const { status, text } = await ask(path);
    expect(status).toBe(200);
    const answer: unknown = JSON.parse(text);
    expect(schema.parse(answer)).toEqual(answer);
  });

  it('a command is answered, and a refusal says why', async () => {
    const done = await ask('/api/command', json, '{"do":"watered","tray":"t9","ref":"r-1"}');
    expect([done.status, answerSchema.parse(JSON.parse(done.text)).ref]).toEqual([200, 'r-1']);
    const refused = await ask('/api/command', json, '{"do":"watered","tray":"t99"}');
    expect([refused.status, code(refused)]).toEqual([409, 'unknown-tray']);
  });
});

describe('bad questions', () => {
  it.each([
    ['/api/curves?from=2026-05-02T00:00:00Z&to=2026-05-01T00:00:00Z', 400, 'span-backwards'],
    ['/api/water?from=1926-05-02T00:00:00Z&to=2026-05-01T00:00:00Z', 400, 'span-too-long'],
    ['/api/water?from=yesterday', 400, 'not-a-time'],
    ['/api/tray/t99/curve', 404, 'unknown-tray'],
    ['/api/tray/%FF/curve', 404, 'unknown-tray'],
    ['/api/tray/t1/curve?buckets=0', 400, 'not-a-count'],
    ['/api/journal?kinds=reading', 400, 'unknown-kind'],
    ['/api/curves?months=13', 400, 'not-a-month'],
    ['/api/curves?vpd=windy', 400, 'unknown-class'],
    ['/api/curves?stage=dead', 400, 'unknown-stage'],
  ])('%s is answered %i %s', async (path, status, wanted) => {
    const reply = await ask(path);
    expect([reply.status, code(reply)]).toEqual([status, wanted]);
  });

  it.each([
    ['not JSON', '{"do":', 400, 'malformed-json'],
    ['an unknown command', '{"do":"burn"}', 400, 'malformed-command'],
    ['a wrong type', '{"do":"weighed","tray":"t1","grams":"many"}', 400, 'malformed-command'],
    ['1 MB of text', JSON.stringify({ do: 'note', text: 'x'.repeat(1_000_000) }), 413, 'too-large'],
    [
      'a note of 3000 letters',
      JSON.stringify({ do: 'note', text: 'x'.repeat(3000) }),
      400,
      'malformed-command',
    ],
  ])('%s as a command changes nothing', async (_what, body, status, wanted) => {
    const before = farm.commands.length;
    const reply = await ask('/api/command', json, body);
    expect([reply.status, code(reply)]).toEqual([status, wanted]);
    expect(farm.commands.length).toBe(before);
  });
});

describe('the live stream', () => {
  it('tells patches and journal lines, and resumes after a gap without doubling or loss', async () => {
    const first = await eventsOf(`${page.address}api/live`);
    const fresh = await first.next('present');
    pagePresentSchema.parse(JSON.parse(fresh.data));
    await farm.feed.command({ do: 'note', text: 'first', ref: 'n-1' });
    const line = await first.next('journal');
    expect(JSON.parse(line.data)).toMatchObject({ kind: 'note', text: 'first' });
    first.close();

    await farm.feed.command({ do: 'note', text: 'second', ref: 'n-2' });
    await farm.feed.command({ do: 'watered', tray: 't6', ref: 'n-3' });
    const second = await eventsOf(`${page.address}api/live`, { 'last-event-id': line.id });
    const missed = await second.next('journal');
    expect(JSON.parse(missed.data)).toMatchObject({ text: 'second' });
    const patch = await second.next('patch');
    const { trays } = pagePatchSchema.parse(JSON.parse(patch.data));
    expect(trays?.map((tray) => tray.id)).toContain('t6');
    second.close();
  });

  it('gives a fresh picture to a page that comes from another run of the house', async () => {
    const events = await eventsOf(`${page.address}api/live?after=0badcafe0bad.7`);
    expect((await events.next('present')).id).not.toContain('0badcafe0bad');
    events.close();
  });
});

describe('starting', () => {
  it('says what to do when the port is taken', async () => {
    const taken = startPage({
      config: farm.config,
      queries: farm.store,
      live: farm.feed,
      listenHost: '127.0.0.1',
      listenPort: page.port,
    });
    await expect(taken).rejects.toMatchObject({ code: 'EADDRINUSE' });
    await expect(taken).rejects.toThrow(/page\.listenPort/);
  });

  it('never lets a text of the farm end the script element of the page', async () => {
    const crop = '</script><b>leek';
    const trays = farm.feed.present().trays.map((tray) => ({ ...tray, crop }));
    const live = { ...farm.feed, present: () => ({ ...farm.feed.present(), trays }) };
    const other = await startPage({
      config: farm.config,
      queries: farm.store,
      live,
      listenHost: '127.0.0.1',
      listenPort: 0,
    });
    const { text } = await ask('/', {}, undefined, other);
    await other.close();
    expect(text).not.toContain(crop);
    expect(text).toContain('\\u003c/script>');
  });
});
