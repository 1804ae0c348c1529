// Tells alarms as fast as it can and says on standard output which were taken, until it is killed.
import { messagingSchema } from '../../shared/config/messaging.js';
import { createPublisher } from '../../src/messaging/publisher.js';
import { alarmFact, START_MS } from './facts.js';
import { quietLog } from './quiet-log.js';

const [url = '', dataFolder = '', user = '', password = '', first = '0'] = process.argv.slice(2);
const publisher = await createPublisher({
  farm: 'alder-row',
  config: messagingSchema.parse({ url, user, password }),
  drive: 'live',
  timeZone: 'UTC',
  dataFolder,
  nowMs: () => START_MS,
  log: quietLog,
});
for (let i = Number(first); ; i++) {
  await publisher.tell([alarmFact(`t${i}`, 'unacknowledged')]);
  process.stdout.write(`${i}\n`);
  await new Promise((resolve) => setImmediate(resolve));
}
