import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { withPatience } from '../../src/messaging/gateways/patience.js';
import { refusalWords, silenceWords } from '../../src/messaging/gateways/webhooks/webhook-trouble.js';
import { freePort } from './free-port.js';

/** Long beside what an answer on this machine takes, however busy it is. */
const PATIENCE_MS = 2000;

describe('why a webhook does not take a post', () => {
  let gateway: Server;
  let url: string;

  /** Posts as the monitor does, and hands back the words about what came of it. */
  async function post(path: string, to = url): Promise<string> {
    try {
      const answer = await withPatience(PATIENCE_MS, new AbortController().signal, (signal) =>
        fetch(`${to}${path}`, { method: 'POST', redirect: 'manual', signal }),
      );
      return refusalWords(answer.status, answer.headers.get('location'));
    } catch (cause) {
      return silenceWords(cause, PATIENCE_MS);
    }
  }

  beforeEach(async () => {
    gateway = createServer((request, response) => {
      if (request.url === '/hangs') return;
      if (request.url === '/moved') response.setHeader('location', 'https://new.example/hook');
      response.writeHead(request.url === '/moved' ? 302 : Number(request.url?.slice(1))).end();
    });
    await new Promise<void>((resolve) => gateway.listen(0, '127.0.0.1', resolve));
    url = `http://127.0.0.1:${(gateway.address() as AddressInfo).port}`;
  });

  afterEach(async () => {
    gateway.closeAllConnections();
    await new Promise((resolve) => gateway.close(resolve));
  });

  it('is told in words, not by the number of an exception, when it hangs', async () => {
    expect(await post('/hangs')).toBe(
      "it does not answer within 2 s; look at the gateway's log and at the network",
    );
  });

  it('is told also when the garbage collector ran meanwhile', async () => {
    setFlagsFromString('--expose-gc');
    const collect = runInNewContext('gc') as () => void;
    const collecting = setInterval(collect, 5);
    expect(await post('/hangs')).toMatch(/^it does not answer within/);
    clearInterval(collecting);
  });

  it('names the address that a redirect points to', async () => {
    expect(await post('/moved')).toBe(
      'it answers 302 and points to https://new.example/hook; posts do not follow, give the final address as its url',
    );
  });

  it.each([
    ['/410', 'it answers 410: that address is gone for good; give another url, or take the webhook out'],
    ['/401', 'it answers 401: it does not believe the signature; give both sides the same secret'],
    ['/500', "it answers 500: look at the gateway's log"],
    ['/418', 'it answers 418'],
  ])('%s: %s', async (path, words) => expect(await post(path)).toBe(words));

  it('says that nobody listens', async () => {
    expect(await post('/', `http://127.0.0.1:${await freePort()}`)).toBe(
      'nobody listens there; start the gateway, or check its url',
    );
  });
});
