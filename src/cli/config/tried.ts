import { createServer } from 'node:net';

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
async function isPage(host: string, port: number): Promise<boolean> {
  try {
    const answer = await fetch(`http://${reachable(host)}:${port}/`, {
      signal: AbortSignal.timeout(LOOK_MS),
    });
    return (await answer.text()).includes('<title>Drybell</title>');
  } catch (cause) {
    if (cause instanceof Error) return false;
    throw cause;
  }
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
export async function tryPage(host: string, port: number, monitorRuns: boolean): Promise<Tried> {
  const path = ['page', 'listenPort'];
  if (monitorRuns && port !== 0 && (await isPage(host, port)))
    return { what: 'page', ok: true, sentence: `the running monitor serves it on ${host}:${port}`, path };
  return tryListen('page', host, port, path);
}
