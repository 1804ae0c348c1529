import { createServer } from 'node:net';

/** What became of one thing that was tried. */
export interface Tried {
  readonly what: string;
  readonly ok: boolean;
  /** What works, or what to do about it. */
  readonly sentence: string;
}

/** Can something listen here? */
export async function tryListen(what: string, host: string, port: number, setting: string): Promise<Tried> {
  const server = createServer();
  return new Promise((settle) => {
    server.once('error', (cause: NodeJS.ErrnoException) => {
      const busy = cause.code === 'EADDRINUSE';
      settle({
        what,
        ok: false,
        sentence: busy
          ? `something listens on ${host}:${port} already: a monitor that runs, or another program; stop it or give another ${setting}`
          : `can't listen on ${host}:${port} (${cause.code ?? cause.message}); mend ${setting}`,
      });
    });
    server.listen(port, host, () =>
      server.close(() => settle({ what, ok: true, sentence: `${host}:${port} is free` })),
    );
  });
}
