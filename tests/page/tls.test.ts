import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { pageSchema } from '../../shared/config/page.js';
import { certificateFindings } from '../../src/cli/config/certificate-findings.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import { type Certificates, makeCertificates } from '../helpers/certificates.js';
import { describeIf } from '../helpers/needs.js';
import { createDemoFarm, type DemoFarm } from './demo-farm.js';

const LOOK_EVERY_MS = 20;

describe('page.certFile', () => {
  it('is given together with page.keyFile', () => {
    const { error } = pageSchema.safeParse({ certFile: 'page.pem' });
    expect(error?.issues.map(({ path, message }) => [path.join('.'), message])).toEqual([
      ['keyFile', 'give certFile and keyFile together'],
    ]);
  });
});

describeIf('openssl', 'the page over TLS', () => {
  let farm: DemoFarm;
  let folder: string;
  let good: Certificates;
  let expired: Certificates;
  const open: RunningPage[] = [];
  const complaints: string[] = [];

  beforeAll(async () => {
    farm = await createDemoFarm();
    folder = mkdtempSync(join(tmpdir(), 'drybell-page-tls-'));
    good = makeCertificates();
    expired = makeCertificates(-1);
  });
  afterAll(async () => {
    for (const page of open) await page.close();
    for (const one of [good, expired]) one.remove();
    rmSync(folder, { recursive: true, force: true });
  });

  const configured = (cert: string, key: string, more: object = {}) => ({
    ...farm.config,
    page: { ...farm.config.page, certFile: cert, keyFile: key, ...more },
  });

  async function serve(cert: string, key: string, more: object = {}): Promise<RunningPage> {
    const page = await startPage({
      config: configured(cert, key, more),
      queries: farm.store,
      live: farm.feed,
      listenHost: '127.0.0.1',
      listenPort: 0,
      complain: (sentence) => complaints.push(sentence),
      lookEveryMs: LOOK_EVERY_MS,
    });
    open.push(page);
    return page;
  }

  /** What a browser gets that believes this authority; rejects when it does not believe the page. */
  function ask(page: RunningPage, ca: string, path: string, body?: string) {
    return new Promise<{ status: number; cookie: string; text: string }>((resolve, reject) => {
      const sent = request(
        {
          host: '127.0.0.1',
          port: page.port,
          path,
          ca: readFileSync(ca),
          agent: false,
          method: body === undefined ? 'GET' : 'POST',
          headers: { 'content-type': 'application/json' },
        },
        (response) => {
          let text = '';
          response.on('data', (part: Buffer) => {
            text += part.toString('utf8');
          });
          response.on('end', () =>
            resolve({
              status: response.statusCode ?? 0,
              cookie: (response.headers['set-cookie'] ?? []).join(),
              text,
            }),
          );
        },
      );
      sent.on('error', reject);
      sent.end(body);
    });
  }

  /** Fingerprint of what a fresh connection is shown. */
  function shown(page: RunningPage): Promise<string> {
    return new Promise((resolve, reject) => {
      const socket = connect({ port: page.port, host: '127.0.0.1', rejectUnauthorized: false }, () => {
        resolve(socket.getPeerCertificate().fingerprint256);
        socket.destroy();
      });
      socket.on('error', reject);
    });
  }

  it('answers a browser that believes its authority, and no other', async () => {
    const page = await serve(good.cert, good.key);
    expect(page.address).toBe(`https://127.0.0.1:${page.port}/`);
    expect((await ask(page, good.ca, '/api/present')).status).toBe(200);
    await expect(ask(page, expired.ca, '/api/present')).rejects.toThrow();
  });

  it('keeps the cookie of the access word to TLS', async () => {
    const page = await serve(good.cert, good.key, { accessWord: 'wet thumbs' });
    const { cookie } = await ask(page, good.ca, '/api/enter', '{"word":"wet thumbs"}');
    expect(cookie).toContain('; Secure');
  });

  it('shows a new certificate when the files change, without ending a connection; a pair that does not fit leaves the old one', async () => {
    const [cert, key] = [join(folder, 'page.pem'), join(folder, 'page.key')];
    const place = ({ cert: one }: Certificates, { key: other }: Certificates): void => {
      copyFileSync(one, cert);
      copyFileSync(other, key);
    };
    place(good, good);
    const page = await serve(cert, key);
    const before = await shown(page);
    const next = makeCertificates();
    place(next, good);
    await vi.waitFor(() =>
      expect(complaints.some((one) => one.includes('do not belong together'))).toBe(true),
    );
    expect(await shown(page)).toBe(before);
    place(next, next);
    await vi.waitFor(async () => expect(await shown(page)).not.toBe(before));
    expect((await ask(page, next.ca, '/api/present')).status).toBe(200);
    next.remove();
  });

  it('does not start with a file that is missing, no PEM, or of another key', async () => {
    const nothing = join(folder, 'nothing.pem');
    const text = join(folder, 'text.pem');
    writeFileSync(text, 'not a certificate');
    for (const [cert, key, words] of [
      [nothing, good.key, 'there is no such file'],
      [text, good.key, 'is not a PEM file'],
      [good.cert, expired.key, 'do not belong together'],
    ] as const)
      await expect(serve(cert, key)).rejects.toMatchObject({
        code: 'file-unreadable',
        message: expect.stringContaining(words),
      });
  });

  it('serves with a certificate out of date, and says so', async () => {
    await serve(expired.cert, expired.key);
    expect(complaints.some((one) => one.includes('has expired on'))).toBe(true);
  });

  it('is judged by check: dates, key, names', () => {
    const found = (cert: string, key: string, more: object = {}) =>
      certificateFindings(configured(cert, key, more), Date.now()).map(({ ok, better, sentence }) => [
        better === true ? 'better' : ok ? 'works' : 'fails',
        sentence,
      ]);
    const soon = makeCertificates(3);
    expect(found(good.cert, good.key)).toEqual([
      ['works', expect.stringContaining('belong together and are in date')],
    ]);
    expect(found(soon.cert, soon.key)).toEqual([['better', expect.stringContaining('renew it before')]]);
    expect(found(expired.cert, expired.key)).toEqual([['fails', expect.stringContaining('has expired on')]]);
    expect(found(good.cert, expired.key)).toEqual([['fails', expect.stringContaining('do not belong')]]);
    expect(found(join(folder, 'gone.pem'), good.key)).toEqual([
      ['fails', expect.stringContaining('there is no such file')],
    ]);
    expect(found(good.cert, good.key, { hostNames: ['localhost', 'greenhouse.lan'] })).toEqual([
      ['fails', expect.stringContaining('does not stand for greenhouse.lan')],
    ]);
    soon.remove();
  });

  it('takes what the guide has one make', async () => {
    const guide = readFileSync(new URL('../../shared/phones.md', import.meta.url), 'utf8');
    const recipe = /```sh\n([\s\S]*?)```/.exec(guide)?.[1]?.replace('192.168.4.20', '127.0.0.1') ?? '';
    execFileSync('sh', ['-e', '-c', recipe], { cwd: folder, stdio: 'pipe' });
    const page = await serve(join(folder, 'page.pem'), join(folder, 'page.key'));
    expect((await ask(page, join(folder, 'authority.pem'), '/api/present')).status).toBe(200);
  });
});
