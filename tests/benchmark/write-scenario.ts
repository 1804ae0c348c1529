import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { toInstant } from '../../shared/base/ids.js';
import type { Scenario } from './scenario.js';

const HOUR_MS = 3_600_000;
const ROWS_PER_WRITE = 20_000;

function writeRows(file: string, header: string, count: number, row: (index: number) => string): void {
  writeFileSync(file, `${header}\n`);
  for (let from = 0; from < count; from += ROWS_PER_WRITE) {
    const lines = Array.from(
      { length: Math.min(ROWS_PER_WRITE, count - from) },
      (_, i) => `${row(from + i)}\n`,
    );
    writeFileSync(file, lines.join(''), { flag: 'a' });
  }
}

const hours = (value: number | undefined): string => (value === undefined ? '' : value.toFixed(3));

/**
 * Writes a scenario as replay reads it, and its truth beside it: config.json, readings.csv, log.csv, and truth.csv with,
 * for each tray and hour, the mean block's true water content and the hours to refill had nobody watered (mean block and
 * driest tenth; empty: beyond what was run).
 */
export function writeScenario(scenario: Scenario, folder: string): void {
  mkdirSync(folder, { recursive: true });
  const { config, readings, log, startMs, endMs } = scenario;
  writeFileSync(join(folder, 'config.json'), `${JSON.stringify(config, null, 2)}\n`);
  writeRows(join(folder, 'readings.csv'), 'time,probe,value', readings.count, (i) => {
    const probe = readings.probeIds[readings.probe[i] ?? 0] ?? '';
    return `${toInstant(readings.atMs[i] ?? 0)},${probe},${Number((readings.value[i] ?? 0).toFixed(4))}`;
  });
  writeRows(join(folder, 'log.csv'), 'time,tray,event,ml,bench,level', log.length, (i) => {
    const row = log[i];
    if (row === undefined) return '';
    return [toInstant(row.atMs), row.tray, row.event, row.ml ?? '', row.bench ?? '', row.level ?? ''].join(
      ',',
    );
  });
  const instants: number[] = [];
  for (let at = Math.ceil(startMs / HOUR_MS) * HOUR_MS; at <= endMs; at += HOUR_MS) instants.push(at);
  const cells = instants.flatMap((atMs) => config.trays.map(({ id }) => ({ atMs, id })));
  writeRows(
    join(folder, 'truth.csv'),
    'time,tray,waterContentM3PerM3,refillPointM3PerM3,hoursToRefill,hoursToRefillDriestTenth',
    cells.length,
    (i) => {
      const cell = cells[i];
      if (cell === undefined) return '';
      const { history, refillPointM3PerM3 } = scenario.truth;
      const dry = history.dryOut(cell.id, cell.atMs);
      return [
        toInstant(cell.atMs),
        cell.id,
        history.waterContentM3PerM3(cell.id, cell.atMs).toFixed(4),
        (refillPointM3PerM3.get(cell.id) ?? 0).toFixed(4),
        hours(dry.meanBlockH),
        hours(dry.driestTenthH),
      ].join(',');
    },
  );
}
