import { beforeAll, describe, expect, it } from 'vitest';
import type { JournalEntry } from '../../shared/page/page-journal.js';
import { spokenFact } from '../../src/monitor/ports/spoken-fact.js';
import { journalEntryOf } from '../../src/review/feed/journal-entry.js';
import { foldLines, searched } from '../../src/review/page/views/journal/fold-lines.js';
import { FarmPainter } from '../../src/review/server/live/farm-picture.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { createDemoFarm } from './demo-farm.js';
import { HOUR_MS, SEASON_END_MS, seasonFacts } from './demo-season.js';

/** What fits on a phone of 844 px without scrolling: lines of 56 px under the title. */
const ONE_SCREEN_LINES = 12;

const alarm = (
  at: string,
  state: 'unacknowledged' | 'acknowledged' | 'normal',
  tray = 't2',
): JournalEntry => ({
  kind: 'alarm',
  at,
  transition: { at, kind: 'refill', state, tray },
});
const call = (at: string, trays: string[]): JournalEntry => ({
  kind: 'call',
  at,
  call: { at, kind: 'refill', bench: 'south', trays, again: false, sentence: 'Bench south: water.' },
});
const pour = (at: string, tray: string, ml = 400): JournalEntry => ({
  kind: 'watering',
  at,
  watering: { at, tray, source: 'logged', ml },
});

describe('foldLines()', () => {
  it('makes one line of a call: raised, called, seen, over; the next time it is another line', () => {
    const lines = foldLines([
      alarm('2026-05-15T08:00:00Z', 'unacknowledged'),
      call('2026-05-15T08:00:00Z', ['t2']),
      alarm('2026-05-15T08:10:00Z', 'acknowledged'),
      alarm('2026-05-15T08:40:00Z', 'normal'),
      call('2026-05-15T16:00:00Z', ['t2']),
      alarm('2026-05-15T16:00:00Z', 'unacknowledged'),
    ]);
    expect(lines.map(({ kind, at }) => [kind, at])).toEqual([
      ['call', '2026-05-15T16:00:00Z'],
      ['call', '2026-05-15T08:40:00Z'],
    ]);
    expect(lines[1]).toMatchObject({ steps: { length: 4 }, alarms: { length: 3 } });
    expect(lines[0]).toMatchObject({ steps: { length: 2 }, alarms: { length: 1 } });
  });

  it('makes one line of the pours of a walk; a pour an hour later is another, an undone one stands alone', () => {
    const lines = foldLines([
      pour('2026-05-15T05:00:00Z', 't1'),
      pour('2026-05-15T05:20:00Z', 't2'),
      { ...pour('2026-05-15T05:25:00Z', 't3'), undone: true } as JournalEntry,
      pour('2026-05-15T05:50:00Z', 't4'),
      pour('2026-05-15T06:50:00Z', 't5'),
    ]);
    expect(lines.map((line) => (line.kind === 'pours' ? line.entries.length : line.kind))).toEqual([
      'one',
      3,
      'one',
    ]);
  });

  it('leaves nothing out, and a day of the demo farm reads on one screen', async () => {
    const dayMs = 24 * HOUR_MS;
    const { say } = createSpeech((await createDemoFarm()).config);
    const entries = [...seasonFacts(SEASON_END_MS, SEASON_END_MS - 3 * dayMs)]
      .flatMap((fact) => journalEntryOf(spokenFact(fact, say), say) ?? [])
      .filter(({ at }) => Date.parse(at) >= SEASON_END_MS - dayMs);
    const lines = foldLines(entries);
    const held = lines.flatMap((line) =>
      line.kind === 'one' ? [line.entry] : line.kind === 'pours' ? line.entries : line.steps,
    );
    expect(new Set(held.map((entry) => JSON.stringify(entry)))).toEqual(
      new Set(entries.map((entry) => JSON.stringify(entry))),
    );
    expect(entries.length).toBeGreaterThan(ONE_SCREEN_LINES);
    expect(lines.length).toBeLessThanOrEqual(ONE_SCREEN_LINES);
  });
});

describe('searched()', () => {
  let present: Parameters<typeof searched>[2];
  beforeAll(async () => {
    const farm = await createDemoFarm(Date.parse('2026-05-13T00:00:00Z'));
    present = { ...new FarmPainter(farm.config, farm.feed).paint(), cursor: 'x' };
  });

  it('finds by words in any order, by tray and by bench', () => {
    const at = '2026-05-15T08:00:00Z';
    const entries: JournalEntry[] = [
      { kind: 'note', at, tray: 't9', text: 'Aphids on the edge' },
      { kind: 'note', at, text: 'new hose' },
      pour(at, 't1'),
    ];
    const find = (part: Partial<Parameters<typeof searched>[1]>) =>
      searched(entries, { words: '', tray: undefined, bench: undefined, ...part }, present, (entry) =>
        entry.kind === 'note' ? entry.text : entry.kind,
      );
    expect(find({ words: 'edge APHIDS' })).toEqual([entries[0]]);
    expect(find({ tray: 't1' })).toEqual([entries[2]]);
    expect(find({ bench: 'north' })).toEqual([entries[0]]);
    expect(find({ bench: 'south', words: 'hose' })).toEqual([]);
  });
});
