import type { ProbeConfig } from '../../../shared/config/probes.js';
import { englishDoubts, type ProbeVerdict } from '../../../shared/probe-verdict.js';
import type { Flag } from '../../../shared/reading.js';
import { isBelieved } from '../../../shared/reading-belief.js';
import type { DetailedSample } from '../../board/detailed-sample.js';
import type { NodeNews } from '../../monitor/ports.js';
import type { ProbeJudgement } from '../../sensing/probe-judge.js';

/** Whether a reading counts, to somebody with a soldering iron. */
function countsWords(flag: Flag, reasons: readonly string[]): string {
  if (flag === 9) return 'no answer';
  return isBelieved(flag, reasons) ? 'counts' : 'does not count';
}

/** One line of the live view. */
export type ProbeRow = readonly [
  probe: string,
  counts: string,
  volts: string,
  value: string,
  reading: string,
  verdict: string,
];

const header: ProbeRow = ['probe', 'counts', 'volts', 'value', 'reading', 'verdict'];

function verdictWords({ reason }: ProbeVerdict): string {
  return reason === '' ? 'trusted' : englishDoubts[reason];
}

export function probeRow(
  probe: ProbeConfig,
  sample: DetailedSample | undefined,
  judgement: ProbeJudgement | string,
  verdict: ProbeVerdict,
  moved = '',
): ProbeRow {
  const isJudged = typeof judgement !== 'string';
  const value =
    isJudged && judgement.waterContentM3PerM3 !== undefined
      ? `${judgement.waterContentM3PerM3.toFixed(3)} m3/m3`
      : valueText(probe, sample?.rawValue);
  return [
    probe.id,
    sample?.counts === undefined ? '' : String(Math.round(sample.counts)),
    sample?.volts === undefined ? '' : sample.volts.toFixed(3),
    value,
    isJudged ? countsWords(judgement.flag, judgement.reasons) : 'waits',
    [
      moved,
      ...(isJudged ? [verdictWords(verdict), sample?.reason ?? judgement.reasons.join(', ')] : [judgement]),
    ]
      .filter((part) => part !== '')
      .join('; '),
  ];
}

const secondMs = 1000;

/** When a delivered probe was last heard, and how its node is. */
export function heardWords({ heardAtMs, battery, signalDbm }: NodeNews, nowMs: number): string {
  return [
    `heard ${Math.round((nowMs - heardAtMs) / secondMs)} s ago`,
    ...(battery === undefined ? [] : [`battery ${battery}`]),
    ...(signalDbm === undefined ? [] : [`signal ${signalDbm} dBm`]),
  ].join(', ');
}

/** What counts as having moved when a hand does it, raw unit (judgement: several times a sound probe's scatter). */
const movesBy = { 'air-temperature': 0.5, 'relative-humidity': 3, 'block-moisture': 0.05, 'tray-weight': 20 };
const lightMovesByShare = 0.2;

/** How far a probe has moved since the first table; empty while it stands still. */
export function moveWords(probe: ProbeConfig, first: number | undefined, now: number | undefined): string {
  if (first === undefined || now === undefined) return '';
  const by = now - first;
  const least = probe.kind === 'light' ? Math.abs(first) * lightMovesByShare : movesBy[probe.kind];
  return Math.abs(by) > least ? `MOVED by ${by > 0 ? '+' : ''}${Number(by.toPrecision(3))}` : '';
}

/** A raw value as the probe gives it; a moisture probe's volts have a column of their own. */
function valueText(probe: ProbeConfig, rawValue: number | undefined): string {
  if (rawValue === undefined) return '';
  switch (probe.kind) {
    case 'air-temperature':
      return `${rawValue.toFixed(2)} °C`;
    case 'relative-humidity':
      return `${rawValue.toFixed(1)} %`;
    case 'light':
      return `${rawValue < 10 ? rawValue.toFixed(1) : Math.round(rawValue)} ${probe.unit}`;
    case 'block-moisture':
      return 'not calibrated';
    case 'tray-weight':
      return `${rawValue.toFixed(1)} g`;
  }
}

/** Rows under their header, aligned. */
export function probeTable(rows: readonly ProbeRow[]): string {
  const all = [header, ...rows];
  const widths = header.map((_, column) => Math.max(...all.map((row) => row[column]?.length ?? 0)));
  return all
    .map((row) =>
      row
        .map((cell, column) =>
          column === 1 || column === 2
            ? cell.padStart(widths[column] ?? 0)
            : cell.padEnd(widths[column] ?? 0),
        )
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
