import { type Command, InvalidArgumentError } from 'commander';
import { startPage } from '../../review/start-page.js';
import { StoreFeed } from '../../review/store-feed/store-feed.js';
import { storeDocuments } from '../../store/sqlite/read-state.js';
import { addressOf } from '../asking/reach-monitor.js';
import { askedConfig } from '../config/asked-config.js';
import { createLog } from '../program/log.js';
import { realClock } from '../program/real-clock.js';
import { stopSignal } from '../program/stop-signal.js';
import { openReview } from '../running/house-parts/open-review.js';
import { openHouses } from '../running/open-houses.js';

const LOOK_EVERY_MS = 30_000;

interface ReviewOptions {
  readonly config?: string;
  readonly host?: string;
  readonly port?: number;
}

function readPort(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new InvalidArgumentError('expected a port from 0 to 65535');
  return port;
}

async function review(options: ReviewOptions): Promise<void> {
  const config = askedConfig(options.config);
  const log = createLog('warn');
  const queries = openReview(config);
  try {
    const feed = await StoreFeed.open({
      config,
      queries,
      nowMs: () => realClock.nowMs(),
      lookEveryMs: LOOK_EVERY_MS,
      complain: (cause) => log.warn({ err: cause }, 'store-not-read'),
    });
    const houses = await openHouses(config, addressOf(config));
    try {
      const page = await startPage({
        config,
        queries,
        live: feed,
        photos: storeDocuments(config.store.folder),
        houses: houses?.answer,
        listenHost: options.host ?? config.page.listenHost,
        listenPort: options.port ?? config.page.listenPort,
        complain: (sentence) => log.warn({ sentence }, 'page-certificate'),
      });
      console.log(`The page of ${config.farm} from its store: ${page.address}`);
      await stopSignal(() => console.log('Closing the page ...'));
      await page.close();
    } finally {
      await houses?.close();
      feed.close();
    }
  } finally {
    await queries.close();
  }
}

const EXAMPLES = `
Examples:
  drybell review                                   no monitor runs here
  drybell review --config farm.jsonc --port 0      beside a running one: any free port; it prints which`;

/** `drybell review`: the page on the store alone, with no board attached. */
export function register(program: Command): void {
  program
    .command('review')
    .description('Serve the page from the store or from InfluxDB, with no board attached; it only shows.')
    .option('--config <file>', 'configuration of the farm')
    .option('--host <address>', 'address to listen on instead of page.listenHost')
    .option('--port <number>', 'port to listen on instead of page.listenPort; 0 is any free one', readPort)
    .addHelpText('after', EXAMPLES)
    .action((options: ReviewOptions) => review(options));
}
