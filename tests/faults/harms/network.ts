import { setTimeout as sleep } from 'node:timers/promises';
import { type Harm, span } from './harm.js';

/** What is done to a broker and to a server of the history elsewhere. */
export const NETWORK_HARMS: readonly Harm[] = [
  {
    name: 'broker killed',
    needs: ['mosquitto'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      await parts.broker?.stop('SIGKILL');
      await sleep(span(random));
      await parts.broker?.start();
    },
  },
  {
    name: 'broker refuses',
    needs: ['mosquitto'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.cable?.pull();
      await sleep(span(random));
      parts.cable?.mend();
    },
  },
  {
    name: 'broker half open',
    needs: ['mosquitto'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.cable?.freeze();
      await sleep(span(random));
      parts.cable?.mend();
    },
  },
  {
    name: 'InfluxDB killed',
    needs: ['influxd'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      await parts.influx?.halt('SIGKILL');
      await sleep(span(random));
      await parts.influx?.resume();
    },
  },
  {
    name: 'InfluxDB slow',
    needs: ['influxd'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.gate?.set('slow');
      await sleep(2 * span(random));
      parts.gate?.set('open');
    },
  },
  {
    name: 'InfluxDB refuses',
    needs: ['influxd'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.gate?.set('refuses');
      await sleep(2 * span(random));
      parts.gate?.set('open');
    },
  },
  {
    name: "InfluxDB's disk full",
    needs: ['influxd', 'influx-disk'],
    spares: 'all',
    do: async ({ parts }, { random }) => {
      parts.influxDisk?.fill();
      await sleep(2 * span(random));
      parts.influxDisk?.makeRoom();
    },
  },
];
