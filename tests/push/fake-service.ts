import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:https';
import type { AddressInfo } from 'node:net';
import { type PushMessage, pushMessageSchema } from '../../shared/wire/push.js';
import { type Certificates, makeCertificates } from '../helpers/certificates.js';
import { decrypted, newPhone, type Phone, senderOf, subscriptionOf } from './pushed-to.js';

/** A push as it came: what its headers ask, who sent it, and what the phone reads. */
export interface Pushed {
  readonly ttlS: number;
  readonly urgency: string | undefined;
  readonly topic: string | undefined;
  readonly sender: string;
  readonly contact: string;
  readonly bytes: number;
  readonly message: PushMessage;
}

const LEAST_TAKEN_BYTES = 4096;

/** A push service of the test's own, after RFC 8030, with the phones behind it: it refuses what the standards do, and decrypts. */
export class FakeService {
  readonly pushed: Pushed[] = [];
  /** Statuses of the next answers; then 201. */
  readonly answers: number[] = [];
  refusedCount = 0;
  /** Why a push was refused by the standards. */
  readonly faults: string[] = [];
  readonly certificates: Certificates = makeCertificates();
  readonly #phones = new Map<string, Phone>();
  readonly #server: Server;
  #isAway = false;

  constructor() {
    const { cert, key } = this.certificates;
    this.#server = createServer({ cert: readFileSync(cert), key: readFileSync(key) }, (request, response) => {
      const chunks: Buffer[] = [];
      request.on('data', (chunk: Buffer) => chunks.push(chunk));
      request.on('end', () => {
        const forced = this.#isAway ? 503 : this.answers.shift();
        if (forced !== undefined) {
          this.refusedCount += 1;
          response.writeHead(forced).end();
          return;
        }
        try {
          this.pushed.push(this.#take(request.url ?? '', request.headers, Buffer.concat(chunks)));
          response.writeHead(201, { Location: `${this.origin}/message/${this.pushed.length}` }).end();
        } catch (cause) {
          this.faults.push(String(cause));
          response.writeHead(400).end();
        }
      });
    });
  }

  #take(path: string, headers: NodeJS.Dict<string | string[]>, body: Buffer): Pushed {
    const phone = this.#phones.get(path);
    if (phone === undefined) throw new RangeError(`no phone at ${path}`);
    const ttlS = Number(headers['ttl']);
    if (headers['ttl'] === undefined || !Number.isInteger(ttlS)) throw new RangeError('TTL (RFC 8030 §5.2)');
    if (headers['content-encoding'] !== 'aes128gcm') throw new RangeError('encoding (RFC 8291 §4)');
    if (body.length > LEAST_TAKEN_BYTES) throw new RangeError(`${body.length} bytes (RFC 8030 §7.2)`);
    const topic = headers['topic'] as string | undefined;
    if (topic !== undefined && !/^[A-Za-z0-9_-]{1,32}$/.test(topic))
      throw new RangeError('topic (RFC 8030 §5.4)');
    const { publicKey, contact } = senderOf(String(headers['authorization']), this.origin, Date.now() / 1000);
    return {
      ttlS,
      urgency: headers['urgency'] as string | undefined,
      topic,
      sender: publicKey,
      contact,
      bytes: body.length,
      message: pushMessageSchema.parse(JSON.parse(decrypted(body, phone))),
    };
  }

  /** From now on it takes nothing. */
  away(): void {
    this.#isAway = true;
  }

  back(): void {
    this.#isAway = false;
  }

  async listen(): Promise<this> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve));
    return this;
  }

  get origin(): string {
    return `https://localhost:${(this.#server.address() as AddressInfo).port}`;
  }

  /** A phone subscribes: what its browser gives the page. */
  subscribe(name: string) {
    const phone = newPhone();
    this.#phones.set(`/push/${name}`, phone);
    return subscriptionOf(phone, `${this.origin}/push/${name}`);
  }

  async close(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
    this.certificates.remove();
  }
}
