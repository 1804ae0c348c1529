import { randomBytes } from 'node:crypto';
import type { AddressInfo } from 'node:net';
import type { FarmConfig } from '../../shared/config/farm.js';
import type { HousesAnswer } from '../../shared/page/page-houses.js';
import type { Phones } from '../monitor/ports/phones.js';
import type { ReviewQueries } from '../monitor/ports/ports.js';
import type { PageFeed } from './feed/page-feed.js';
import { PhotoShelf } from './photos/photo-shelf.js';
import { builtPageFolder, loadPageFiles } from './server/house/page-files.js';
import type { Vitals } from './server/house/watch-answers.js';
import { AccessWord } from './server/http/access-word.js';
import { namesOfThisHouse } from './server/http/door.js';
import { createPageServer } from './server/http/page-server.js';
import { FarmPainter } from './server/live/farm-picture.js';
import { LiveTeller } from './server/live/live-teller.js';
import { answerRequest } from './server/routes.js';

export interface PageOptions {
  readonly config: FarmConfig;
  readonly queries: ReviewQueries;
  readonly live: PageFeed;
  /** Those that are called by push; absent where nobody is. */
  readonly phones?: Phones | undefined;
  /** Where photos of notes are kept: the house's store; absent: nowhere. */
  readonly photos?: ConstructorParameters<typeof PhotoShelf>[0] | undefined;
  /** What the process is and uses; absent where nothing watches. */
  readonly vitals?: (() => Vitals) | undefined;
  /** All houses of the farm, as they are heard now; absent where it has but this one. */
  readonly houses?: (() => HousesAnswer) | undefined;
  readonly listenHost: string;
  /** 0: any free port. */
  readonly listenPort: number;
  /** Told of a certificate that phones will not believe. */
  readonly complain?: ((sentence: string) => void) | undefined;
  /** How often the certificate's files are looked at; for tests. */
  readonly lookEveryMs?: number | undefined;
}

export interface RunningPage {
  /** Address for a browser on this machine, e.g. `http://127.0.0.1:8118/`; over TLS under the first name that the configuration has. */
  readonly address: string;
  readonly port: number;
  close(): Promise<void>;
}

/** Open connections are cut when they do not end by themselves within this. */
const CLOSE_GRACE_MS = 500;

/**
 * Serves the grower's and the reviewer's page. Rejects with an error whose `code` is that of `listen`
 * (`EADDRINUSE`, `EACCES`, `EADDRNOTAVAIL`) or `file-unreadable`, and whose message says what to do.
 */
export async function startPage(options: PageOptions): Promise<RunningPage> {
  const { config, queries, live } = options;
  const painter = new FarmPainter(config, live);
  await painter.lookBack(queries);
  const teller = new LiveTeller(live, painter, randomBytes(6).toString('hex'));
  const { photos: documents } = options;
  const photos = documents === undefined ? undefined : new PhotoShelf(documents, config.page.photosMb);
  live.subscribe((fact) => {
    if (fact.kind === 'note-undone' && fact.note.photo !== undefined) void photos?.drop(fact.note.photo);
  });
  const house = {
    config,
    queries,
    live,
    phones: options.phones,
    photos,
    houses: options.houses,
    vitals: options.vitals ?? (() => undefined),
    painter,
    teller,
    files: loadPageFiles(builtPageFolder()),
    word: new AccessWord(config.page, config.farm, () => performance.now()),
    names: namesOfThisHouse(config.page.hostNames),
  };
  const { server, scheme, rest } = createPageServer({
    page: config.page,
    answer: (request, response) => void answerRequest(house, request, response),
    nowMs: Date.now,
    complain: options.complain ?? (() => undefined),
    lookEveryMs: options.lookEveryMs,
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', (cause: NodeJS.ErrnoException) => {
      rest();
      const where = `${options.listenHost}:${options.listenPort}`;
      const message = `Cannot serve the page on ${where} (${cause.code ?? cause.message}); give another page.listenPort or page.listenHost.`;
      reject(Object.assign(new Error(message, { cause }), { code: cause.code }));
    });
    server.listen(options.listenPort, options.listenHost, resolve);
  });
  teller.start();
  const { port } = server.address() as AddressInfo;
  const anyAddress = options.listenHost === '0.0.0.0' || options.listenHost === '::';
  const listening = anyAddress ? '127.0.0.1' : options.listenHost;
  const host = (scheme === 'https' ? config.page.hostNames[0] : undefined) ?? listening;
  return {
    address: `${scheme}://${host.includes(':') ? `[${host}]` : host}:${port}/`,
    port,
    close: async () => {
      rest();
      teller.stop();
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      server.closeIdleConnections();
      const cut = setTimeout(() => server.closeAllConnections(), CLOSE_GRACE_MS);
      await closed;
      clearTimeout(cut);
    },
  };
}
