import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { englishDoubts, type ProbeVerdict } from '../../../../shared/facts/probe-verdict.js';
import type { Flag } from '../../../../shared/facts/reading.js';
import { isBelieved } from '../../../../shared/facts/reading-belief.js';
import type { DetailedSample } from '../../../board/station/detailed-sample.js';
import type { NodeNews } from '../../../monitor/ports/ports.js';
import type { ProbeJudgement } from '../../../sensing/probe-judge.js';
import type { FarmWords } from '../../../watering/sentences/words/farm-words.js';
import { columns } from '../../terminal/columns.js';

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

/** One probe as it was just looked at. */
export interface ProbeLook {
  readonly probe: ProbeConfig;
  /** Its newest sample; absent before the first of a delivered probe. */
  readonly sample?: DetailedSample | undefined;
  /** Of a sample of this look; absent while a delivered probe has sent nothing new. */
  readonly judgement?: ProbeJudgement | undefined;
  /** What a delivered probe's node told last. */
  readonly news?: NodeNews | undefined;
  readonly verdict: ProbeVerdict;
  /** Its value at the first look, raw unit. */
  readonly firstValue?: number | undefined;
}

/** @param moves say how far the probe has moved since the first look */
export function probeRow(look: ProbeLook, nowMs: number, moves: boolean, words: FarmWords): ProbeRow {
  const { probe, sample, judgement, news, verdict, firstValue } = look;
  const value =
    judgement?.waterContentM3PerM3 !== undefined
      ? `${judgement.waterContentM3PerM3.toFixed(3)} m3/m3`
      : valueText(probe, sample?.rawValue, words);
  const remarks =
    judgement === undefined
      ? [news === undefined ? 'not heard yet' : heardWords(news, nowMs)]
      : [
          moves ? moveWords(probe, firstValue, sample?.rawValue, words) : '',
          verdictWords(verdict),
          sample?.reason ?? judgement.reasons.join(', '),
        ];
  return [
    probe.id,
    sample?.counts === undefined ? '' : String(Math.round(sample.counts)),
    sample?.volts === undefined ? '' : sample.volts.toFixed(3),
    value,
    judgement === undefined ? 'waits' : countsWords(judgement.flag, judgement.reasons),
    remarks.filter((part) => part !== '').join('; '),
  ];
}

const secondMs = 1000;

/** When a delivered probe was last heard, and how its node is. */
function heardWords({ heardAtMs, battery, signalDbm }: NodeNews, nowMs: number): string {
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
function moveWords(
  probe: ProbeConfig,
  first: number | undefined,
  now: number | undefined,
  words: FarmWords,
): string {
  if (first === undefined || now === undefined) return '';
  const least = probe.kind === 'light' ? Math.abs(first) * lightMovesByShare : movesBy[probe.kind];
  if (Math.abs(now - first) <= least) return '';
  return `MOVED from ${probe.kind === 'block-moisture' ? `${first.toFixed(3)} V` : valueText(probe, first, words)}`;
}

/** A raw value as the probe gives it; a moisture probe's volts have a column of their own. */
function valueText(probe: ProbeConfig, rawValue: number | undefined, words: FarmWords): string {
  if (rawValue === undefined) return '';
  switch (probe.kind) {
    case 'air-temperature':
      return words.temperature(rawValue);
    case 'relative-humidity':
      return `${rawValue.toFixed(1)} %`;
    case 'light':
      return `${rawValue < 10 ? rawValue.toFixed(1) : Math.round(rawValue)} ${probe.unit}`;
    case 'block-moisture':
      return 'not calibrated';
    case 'tray-weight':
      return words.weight(rawValue);
  }
}

/** Rows under their header, aligned. */
export function probeTable(rows: readonly ProbeRow[]): string {
  return columns([header, ...rows]).join('\n');
}
