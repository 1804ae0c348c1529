import { join } from 'node:path';
import { connect } from 'mqtt';
import { Database } from '../../../src/host/disk/sqlite.js';

/** What anybody would write in an evening: hear numbers at a broker, keep them in a table once a minute. Arguments: broker, folder. */
const [address = '', folder = ''] = process.argv.slice(2);
const BATCH_MS = 60_000;

const db = new Database(join(folder, 'bare.db'));
db.pragma('journal_mode = WAL');
db.pragma('synchronous = NORMAL');
db.exec(`CREATE TABLE IF NOT EXISTS reading (id INTEGER PRIMARY KEY, probe TEXT, at INTEGER, value REAL);
  CREATE INDEX IF NOT EXISTS by_probe ON reading (probe, at)`);
const insert = db.prepare('INSERT INTO reading (probe, at, value) VALUES (?, ?, ?)');
const waiting: [probe: string, at: number, value: number][] = [];
setInterval(() => {
  db.transaction(() => {
    for (const row of waiting.splice(0)) insert.run(...row);
  })();
}, BATCH_MS);

const client = connect(address);
client.on('message', (topic, payload) => waiting.push([topic, Date.now(), Number(payload.toString())]));
await client.subscribeAsync('node/#', { qos: 1 });
console.log('ready');
