import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import { alarmMessageSchema } from '../../../shared/wire/messages.js';
import type { MonitorClient } from '../../messaging/wire/monitor-client.js';

/** The alarms that are not normal, as the broker has retained them. */
export async function standingAlarmsAt(monitor: MonitorClient): Promise<readonly AlarmTransition[]> {
  const retained = await monitor.retained(`${monitor.topics.root}/alarm/+/+`);
  return retained.flatMap(({ text }) => {
    const { id: _, ...alarm } = alarmMessageSchema.parse(JSON.parse(text));
    return alarm.state === 'normal' ? [] : [alarm];
  });
}
