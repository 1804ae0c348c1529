import { type LookupAddress, lookup } from 'node:dns';
import { Agent, request } from 'node:https';
import { BlockList, isIP, type LookupFunction } from 'node:net';

/**
 * Addresses that are not somebody else's on the internet (IANA special-purpose registries, RFC 6890 and after): a push service is not
 * there unless the configuration says so, and a page must not make the house post to its neighbours.
 */
const PRIVATE_IPV4 =
  '0.0.0.0/8 10.0.0.0/8 100.64.0.0/10 127.0.0.0/8 169.254.0.0/16 172.16.0.0/12 192.0.0.0/24 192.0.2.0/24 192.168.0.0/16 198.18.0.0/15 198.51.100.0/24 203.0.113.0/24 224.0.0.0/4 240.0.0.0/4';
const PRIVATE_IPV6 =
  '::/128 ::1/128 64:ff9b::/96 64:ff9b:1::/48 100::/64 2001:db8::/32 2002::/16 fc00::/7 fe80::/10 ff00::/8';

const privateNets = new BlockList();
for (const [nets, family] of [
  [PRIVATE_IPV4, 'ipv4'],
  [PRIVATE_IPV6, 'ipv6'],
] as const)
  for (const net of nets.split(' ')) {
    const [address = '', bits] = net.split('/');
    privateNets.addSubnet(address, Number(bits), family);
  }

const isPrivate = (address: string): boolean =>
  privateNets.check(address, isIP(address) === 6 ? 'ipv6' : 'ipv4');

const PRIVATE_CODE = 'EPRIVATE';

function privateError(host: string): Error {
  return Object.assign(
    new Error(
      `"${host}" is on a private network; where a push service of your own is there, name it under messaging.push.privateHosts`,
    ),
    { code: PRIVATE_CODE },
  );
}

export interface PushServiceOptions {
  /** Hosts that may be on a private network. */
  readonly privateHosts: readonly string[];
  /** Authority of a push service of the farm's own. */
  readonly ca?: Buffer | undefined;
  /** Looks names up; the machine's own way when absent. */
  readonly lookup?: typeof lookup | undefined;
}

export interface PushPost {
  readonly endpoint: string;
  readonly headers: Readonly<Record<string, string | number>>;
  readonly body: Buffer;
}

/** Posts to push services, wherever browsers say that theirs is, but to nobody on the farm's own network. */
export class PushService {
  private readonly agent: Agent;

  constructor(private readonly options: PushServiceOptions) {
    this.agent = new Agent({
      lookup: this.guardedLookup,
      ...(options.ca === undefined ? {} : { ca: options.ca }),
    });
  }

  /** Why an endpoint is none that may be posted to; undefined: it may. What its name stands for is looked at when it is posted to. */
  refusal(endpoint: string): string | undefined {
    const url = URL.canParse(endpoint) ? new URL(endpoint) : undefined;
    if (url?.protocol !== 'https:' || url.username !== '' || url.password !== '')
      return 'it is not the https address of a push service';
    const host = url.hostname.replace(/^\[|\]$/g, '');
    const isNear = isIP(host) !== 0 ? isPrivate(host) : host === 'localhost' || host.endsWith('.localhost');
    return isNear && !this.isAllowed(host) ? privateError(host).message : undefined;
  }

  /** Status of the answer. Rejects where none came, with `ending`'s reason when that is aborted. */
  post({ endpoint, headers, body }: PushPost, ending: AbortSignal): Promise<number> {
    const refusal = this.refusal(endpoint);
    if (refusal !== undefined)
      return Promise.reject(Object.assign(new Error(refusal), { code: PRIVATE_CODE }));
    return new Promise((resolve, reject) => {
      const sent = request(endpoint, { method: 'POST', headers, agent: this.agent, signal: ending });
      sent.on('error', (cause) => reject(ending.aborted ? (ending.reason as Error) : cause));
      sent.on('response', (answer) => {
        // what it says further is of no use, and may be without end
        answer.destroy();
        resolve(answer.statusCode ?? 0);
      });
      sent.end(body);
    });
  }

  private isAllowed(host: string): boolean {
    return this.options.privateHosts.includes(host);
  }

  private readonly guardedLookup: LookupFunction = (host, options, done) => {
    const lookUp = this.options.lookup ?? lookup;
    lookUp(host, { ...options, all: true }, (error, found: LookupAddress[]) => {
      if (error !== null) return done(error, []);
      const open = this.isAllowed(host) ? found : found.filter(({ address }) => !isPrivate(address));
      const [first] = open;
      if (first === undefined) return done(privateError(host), []);
      return options.all === true ? done(null, open) : done(null, first.address, first.family);
    });
  };
}
