import pc from 'picocolors';
import { S_PER_HOUR } from '../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import { createSpeech } from '../../watering/sentences/speech.js';

function row(label: string, text: string): string {
  return `  ${pc.dim(label.padEnd(8))}${text}`;
}

/** How to hear the farm with any MQTT client, as a command that can be pasted. */
function subscribeHint(farm: string, broker: string): string {
  const { hostname, port } = new URL(broker);
  return `mosquitto_sub -h ${hostname} -p ${port} -t 'drybell/${farm}/#' -v`;
}

/** What the demo says first: whose farm, how fast its clock runs, where to listen and look. */
export function demoGreeting(
  config: FarmConfig,
  {
    speed,
    startMs,
    broker,
    page,
  }: { readonly speed: number; readonly startMs: number; readonly broker: string; readonly page: string },
): string {
  return [
    '',
    pc.bold(`Drybell on the made-up farm ${config.farm}`),
    row(
      'clock',
      `runs ${speed} times as fast: an hour in ${(S_PER_HOUR / speed).toFixed(1)} s; begins ${createSpeech({ timeZone: config.timeZone, units: config.units }).words.weekdayTime(startMs, startMs)}`,
    ),
    row('broker', broker),
    row('', pc.dim(subscribeHint(config.farm, broker))),
    row('page', page),
    row('end', 'Ctrl-C'),
    '',
  ].join('\n');
}

/** What a live start says first. */
export function liveGreeting(
  config: FarmConfig,
  { broker, page }: { readonly broker: string; readonly page: string },
): string {
  return [
    '',
    pc.bold(`Drybell watches ${config.farm}`),
    row('broker', broker),
    row('page', page),
    row('end', 'Ctrl-C'),
    '',
  ].join('\n');
}
