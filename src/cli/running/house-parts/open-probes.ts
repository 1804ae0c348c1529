import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import {
  createDeliveredReader,
  isDeliveredProbe,
  type Way,
  withDelivered,
} from '../../../board/delivered/delivered-reader.js';
import { openSerialSource } from '../../../board/delivered/serial-source.js';
import { openUdpSource } from '../../../board/delivered/udp-source.js';
import { openPath, openSerialPort } from '../../../board/serial/open-serial-port.js';
import { type BoardProbeReader, createProbeReader } from '../../../board/station/probe-reader.js';
import { openTopicDeliveries, type TopicDeliveries } from '../../../messaging/delivery-source.js';
import { loginFor } from '../../../messaging/wire/house-login.js';
import type { MessagingLog } from '../../../messaging/wire/messaging-log.js';
import type { Clock, DeliverySource } from '../../../monitor/ports/ports.js';

export interface ProbesOptions {
  readonly config: FarmConfig;
  /** Those to read; all of the farm when absent. */
  readonly probes?: readonly ProbeConfig[];
  readonly clock: Clock;
  /** The broker that delivers probes by topic. */
  readonly brokerAddress: string;
  /** Told apart from the monitor's own listening at the broker. */
  readonly asWhom: string;
  readonly log: MessagingLog;
  readonly complain?: (boardId: string, cause: unknown) => void;
}

/** Every way by which this farm's probes are read: boards, the kernel, and what is delivered. */
export function openProbes(options: ProbesOptions): BoardProbeReader {
  const { config, clock, brokerAddress, asWhom, log, complain } = options;
  const probes = options.probes ?? config.probes;
  const boards = createProbeReader({
    boards: config.boards,
    probes,
    clock,
    openTransport: openSerialPort,
    random: Math.random,
    ...(complain === undefined ? {} : { complain }),
  });
  if (!probes.some(isDeliveredProbe)) return boards;
  let topics: TopicDeliveries | undefined;
  const open = (way: Way): DeliverySource => {
    const nowMs = () => clock.nowMs();
    switch (way.kind) {
      case 'topic':
        topics ??= openTopicDeliveries({
          farm: config.farm,
          config: config.messaging,
          login: loginFor(config.messaging, config.store.folder),
          address: brokerAddress,
          nowMs,
          random: Math.random,
          log,
          asWhom,
        });
        return topics.topic(way.topic);
      case 'serial':
        return openSerialSource(way.port, () => openPath(way.port, way.baud), { clock, nowMs });
      case 'udp':
        return openUdpSource(way.host, way.port, nowMs);
    }
  };
  const delivered = createDeliveredReader({ probes, clock, open });
  return withDelivered(boards, {
    ...delivered,
    close: async () => {
      await delivered.close();
      await topics?.close();
    },
  });
}
