import pc from 'picocolors';
import type { StatusReport } from '../../../shared/cli-reports.js';
import { span } from '../terminal/ages.js';
import { STATE_WORDS } from '../terminal/alarm-words.js';

const BYTES_PER_MB = 1e6;
const LABEL_WIDTH = 14;

const row = (label: string, text: string): string => `  ${label.padEnd(LABEL_WIDTH)}${text}`;

function monitorLine({ farm, monitor }: StatusReport, time: (instant: string) => string): string {
  const since = monitor.since === undefined ? '' : ` since ${time(monitor.since)}`;
  switch (monitor.state) {
    case 'runs':
      return `${farm}: ${pc.green('the monitor runs')}${since}; its broker ${monitor.broker} answers.`;
    case 'unheard':
      return `${farm}: ${pc.red('a monitor runs, but is not heard')}. ${monitor.sentence ?? ''}`;
    case 'ended':
      return `${farm}: ${pc.red('no monitor runs')}${since === '' ? '' : `, ended${since.replace('since', 'at')}`}. ${monitor.sentence ?? ''}`;
  }
}

function storeLines({ configuration, store }: StatusReport): readonly string[] {
  if (store === undefined) return [];
  const { folder, bytes, aside, sentence } = store;
  const holds = bytes === undefined ? 'nothing kept yet' : `${(bytes / BYTES_PER_MB).toFixed(1)} MB`;
  return [
    row('Configuration', configuration ?? ''),
    row('Store', sentence === undefined ? `${folder}, ${holds}` : pc.red(sentence)),
    ...(aside.length === 0 ? [row('Set aside', 'nothing')] : []),
    ...aside.map((name, index) => row(index === 0 ? 'Set aside' : '', pc.red(name))),
  ];
}

/** Probes of one age stand together, the freshest first. */
function probeLines({ probes }: StatusReport, nowMs: number): readonly string[] {
  const byAge = new Map<string, { readonly atMs: number; readonly ids: string[] }>();
  for (const { id, newestAt } of probes) {
    const atMs = newestAt === undefined ? Number.NEGATIVE_INFINITY : Date.parse(newestAt);
    const age = newestAt === undefined ? 'never read' : `${span(nowMs - atMs)} ago`;
    const same = byAge.get(age);
    if (same === undefined) byAge.set(age, { atMs, ids: [id] });
    else same.ids.push(id);
  }
  return [...byAge]
    .sort(([, a], [, b]) => b.atMs - a.atMs)
    .map(([age, { ids }], index) => row(index === 0 ? 'Readings' : '', `${age}: ${ids.join(', ')}`));
}

function outgoingLines({ outgoing }: StatusReport, nowMs: number): readonly string[] {
  return outgoing.map(({ to, waiting, oldestAt }, index) => {
    const age = oldestAt === undefined ? '' : `, the oldest for ${span(nowMs - Date.parse(oldestAt))}`;
    const what = waiting === 0 ? 'nothing' : pc.yellow(`${waiting}${age}`);
    return row(
      index === 0 ? 'Waits to go' : '',
      `${to === 'broker' ? 'to the broker' : `by ${to}`}: ${what}`,
    );
  });
}

function alarmLines({ alarms }: StatusReport, time: (instant: string) => string): readonly string[] {
  if (alarms.length === 0) return [row('Standing', 'no alarm')];
  return alarms.map(({ at, kind, state, tray, bench, source, sentence }, index) =>
    row(
      index === 0 ? 'Standing' : '',
      `${pc.dim(time(at))} ${STATE_WORDS[state]}: ${tray ?? bench ?? source ?? ''} ${kind}  ${sentence ?? ''}`.trimEnd(),
    ),
  );
}

/** The status for people. `time` writes an instant as the farm does. */
export function statusLines(report: StatusReport, time: (instant: string) => string): readonly string[] {
  const nowMs = Date.parse(report.at);
  return [
    monitorLine(report, time),
    ...report.monitor.troubles.map((trouble) => row('At its start', pc.yellow(trouble))),
    ...storeLines(report),
    ...probeLines(report, nowMs),
    ...outgoingLines(report, nowMs),
    ...alarmLines(report, time),
  ];
}
