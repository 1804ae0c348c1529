import { readFileSync } from 'node:fs';
import { type Command, InvalidArgumentError, Option } from 'commander';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { MessagingConfig } from '../../../shared/config/messaging.js';
import { type UnitsConfig, unitsSchema } from '../../../shared/config/notices.js';
import { fileTrouble } from '../../host/disk/file-trouble.js';
import { readBrokerFiles } from '../../messaging/wire/broker-files.js';
import type { ReachOptions } from '../../messaging/wire/client-options.js';
import { loginFor } from '../../messaging/wire/house-login.js';
import { MessagingError } from '../../messaging/wire/messaging-error.js';
import type { MonitorClient } from '../../messaging/wire/monitor-client.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import type { FarmWords } from '../../watering/sentences/words/farm-words.js';
import { findConfig } from '../config/find-config.js';
import { loadConfig } from '../config/load-config.js';
import { type JsonFlag, withJson } from '../terminal/json-option.js';

const DEFAULT_ADDRESS = 'mqtt://127.0.0.1:1883';

/** How to find the monitor; the same for every command that talks to it. */
export interface ReachFlags {
  readonly config?: string;
  readonly broker?: string;
  readonly farm?: string;
  readonly user?: string;
  readonly password?: string;
  readonly ca?: string;
}

/** Who says it, and when it was. */
export interface TellFlags extends ReachFlags, JsonFlag {
  readonly by?: string;
  readonly at?: string;
  readonly ref?: string;
}

function brokerUrl(text: string): string {
  if (!/^(mqtts?|wss?):\/\/./.test(text) || !URL.canParse(text))
    throw new InvalidArgumentError(`Expected a URL such as "${DEFAULT_ADDRESS}".`);
  return text;
}

/** Adds the options that say where the monitor is. */
export function withReach(command: Command): Command {
  return command
    .option('--config <file>', 'configuration of the farm; the broker is found in it')
    .addOption(
      new Option(
        '--broker <url>',
        `broker of the monitor (${DEFAULT_ADDRESS} when there is no configuration)`,
      ).argParser(brokerUrl),
    )
    .option('--farm <name>', 'farm, when the broker knows several')
    .option('--user <name>', 'user for the broker')
    .addOption(new Option('--password <word>', 'password for the broker').env('DRYBELL_PASSWORD'))
    .option('--ca <file>', 'certificate authority of the broker, PEM');
}

/** Adds the options of a command that counts from the moment it is told. */
export function withSender(command: Command): Command {
  return withJson(withReach(command), 'answers-report')
    .option('--by <name>', 'who says so')
    .option('--ref <ref>', 'name for this command, to undo it by; made up when absent');
}

/** Adds the options of a command that tells what happened, now or before. */
export function withTelling(command: Command): Command {
  return withSender(command).option(
    '--at <time>',
    'when it was: "14:30", "2h ago" or 2026-04-18T14:30:00+02:00; now when absent',
  );
}

function farmConfig(flags: ReachFlags): FarmConfig | undefined {
  const file = findConfig(flags.config, process.cwd(), process.env);
  return file === undefined || (flags.config === undefined && flags.broker !== undefined)
    ? undefined
    : loadConfig(file);
}

/** Where a monitor with this configuration has its broker. */
export function addressOf(config: FarmConfig | undefined): string {
  if (config === undefined) return DEFAULT_ADDRESS;
  const { url, listenHost, listenPort, listenCertFile } = config.messaging;
  if (url !== undefined) return url;
  const everywhere = listenHost === '0.0.0.0' || listenHost === '::';
  const host = everywhere ? '127.0.0.1' : listenHost.includes(':') ? `[${listenHost}]` : listenHost;
  return `mqtt${listenCertFile === undefined ? '' : 's'}://${host}:${listenPort}`;
}

function readCa(file: string): Buffer {
  try {
    return readFileSync(file);
  } catch (cause) {
    throw new MessagingError(
      'file-unreadable',
      `Cannot read the authority "${file}": ${fileTrouble(cause)}. It is the PEM file that messaging.caFile or --ca names.`,
      {
        cause,
      },
    );
  }
}

/** Which certificates to trust and to show: those of the configuration, unless the command line names an authority. */
export function trustOf(
  flags: ReachFlags,
  messaging: MessagingConfig | undefined,
): Pick<ReachOptions, 'ca' | 'cert' | 'key' | 'ownCertificate'> {
  const { ca, cert, key, listenTls } = messaging === undefined ? {} : readBrokerFiles(messaging);
  return {
    ca: flags.ca === undefined ? ca : readCa(flags.ca),
    cert,
    key,
    ownCertificate: listenTls?.cert,
  };
}

/** As whom: what was typed, else as the configuration has it. */
function loginOf({ user, password, broker }: ReachFlags, config: FarmConfig | undefined) {
  const isTyped = user !== undefined || password !== undefined;
  const { messaging, store } = config ?? {};
  if (messaging === undefined || store === undefined || isTyped || broker !== undefined)
    return { user: user ?? messaging?.user, password: password ?? messaging?.password };
  return loginFor(messaging, store.folder);
}

/** A farm that is reached: its monitor, and what the configuration here says of it. */
export interface ReachedFarm {
  readonly monitor: MonitorClient;
  readonly config: FarmConfig | undefined;
  readonly timeZone: string;
  readonly units: UnitsConfig;
}

export async function reachMonitor(flags: ReachFlags): Promise<ReachedFarm> {
  const config = farmConfig(flags);
  const messaging = config?.messaging;
  // the client is loaded by who reaches somebody: completion and help do not
  const { MonitorClient } = await import('../../messaging/wire/monitor-client.js');
  const monitor = await MonitorClient.reach({
    address: flags.broker ?? addressOf(config),
    farm: flags.farm ?? config?.farm,
    isMonitorsOwn:
      flags.broker === undefined && config !== undefined ? messaging?.url === undefined : undefined,
    ...loginOf(flags, config),
    ...trustOf(flags, messaging),
  });
  const timeZone =
    monitor.status.timeZone ?? config?.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  const units = monitor.status.units ?? config?.units ?? unitsSchema.parse({});
  return { monitor, config, timeZone, units };
}

/** Times and amounts as the farm writes them. */
export function wordsOf({ timeZone, units }: ReachedFarm): FarmWords {
  return createSpeech({ timeZone, units }).words;
}

/** The present on the farm's own clock, which runs fast in the demo: the newest forecast says it. */
export async function farmNowMs({ monitor }: ReachedFarm): Promise<number> {
  if (monitor.status.drive !== 'demo') return Date.now();
  const forecasts = await monitor.retained(monitor.topics.forecast('+'));
  const times = forecasts.map(({ text }) => Date.parse(String((JSON.parse(text) as { at?: unknown }).at)));
  return times.length === 0 ? Date.now() : Math.max(...times);
}
