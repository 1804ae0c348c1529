import { get as getPlain } from 'node:http';
import { get as getOverTls } from 'node:https';
import { createServer } from 'node:net';
import type { PageConfig } from '../../../shared/config/page.js';

/** One thing that was looked at or tried, and what came of it. */
export interface Tried {
  readonly what: string;
  readonly ok: boolean;
  /** What works, or what was expected and what to do. */
  readonly sentence: string;
  /** What it is about in the configuration; absent for a thing of the machine. */
  readonly path?: readonly PropertyKey[];
  /** It will do, and would be better otherwise. */
  readonly better?: true;
}

const LOOK_MS = 2000;

/** Is it our own page that answers at a port? Its start page is the same with and without an access word. */
function isPage({ listenHost, listenPort, certFile }: PageConfig): Promise<boolean> {
  return new Promise((settle) => {
    const address = `${reachable(listenHost)}:${listenPort}/`;
    const signal = AbortSignal.timeout(LOOK_MS);
    // whether phones believe the certificate is another question
    const asked =
      certFile === undefined
        ? getPlain(`http://${address}`, { signal })
        : getOverTls(`https://${address}`, { signal, rejectUnauthorized: false });
    asked.on('error', () => settle(false));
    asked.on('response', (answer) => {
      let text = '';
      answer.setEncoding('utf8');
      answer.on('data', (part: string) => {
        text += part;
      });
      answer.on('error', () => settle(false));
      answer.on('end', () => settle(text.includes('<title>Drybell</title>')));
    });
  });
}

/** An address under which this machine reaches what listens on `host`. */
export function reachable(host: string): string {
  if (host === '0.0.0.0' || host === '::') return '127.0.0.1';
  return host.includes(':') ? `[${host}]` : host;
}

/** Can something listen here? Code of the failure, undefined when it can. */
export async function listenFailure(host: string, port: number): Promise<string | undefined> {
  const server = createServer();
  return new Promise((settle) => {
    server.once('error', (cause: NodeJS.ErrnoException) => settle(cause.code ?? cause.message));
    server.listen(port, host, () => server.close(() => settle(undefined)));
  });
}

/** Can something listen here, as the key `path` of the configuration wants? */
export async function tryListen(
  what: string,
  host: string,
  port: number,
  path: readonly string[],
): Promise<Tried> {
  const failure = await listenFailure(host, port);
  if (failure === undefined) return { what, ok: true, sentence: `${host}:${port} is free`, path };
  const setting = path.join('.');
  return {
    what,
    ok: false,
    sentence:
      failure === 'EADDRINUSE'
        ? `something listens on ${host}:${port} already: another farm's monitor, or another program; stop it or give another ${setting}`
        : `can't listen on ${host}:${port} (${failure}); mend ${setting}`,
    path,
  };
}

/** Is the page's port free, or does the running monitor serve its page there? */
export async function tryPage(page: PageConfig, monitorRuns: boolean): Promise<Tried> {
  const { listenHost: host, listenPort: port } = page;
  const path = ['page', 'listenPort'];
  if (monitorRuns && port !== 0 && (await isPage(page)))
    return { what: 'page', ok: true, sentence: `the running monitor serves it on ${host}:${port}`, path };
  return tryListen('page', host, port, path);
}
