import { describe, expect, it } from 'vitest';
import { unitsSchema } from '../../shared/config/notices.js';
import { type RoundNotice, roundNoticeSchema } from '../../shared/facts/round-notice.js';
import { roundPage } from '../../src/cli/asking/round-page.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';

const words = createSpeech({ timeZone: 'Europe/Berlin', units: unitsSchema.parse({}) }).words;
const at = '2026-04-18T14:45:00Z';
const hoursToRefill = { p10: 6.1, p50: 8, p90: 11.2 };

function notice(dueCount: number, waitingCount: number): RoundNotice {
  return roundNoticeSchema.parse({
    at,
    round: '2026-04-18T16:00:00Z',
    due: Array.from({ length: dueCount }, (_, i) => ({
      tray: `celery-${i}`,
      doseMl: 1200,
      bench: 'south',
      crop: 'celery',
      blockSideMm: 38,
      hoursToRefill,
      pourPlan: { pours: 2, pourMl: 440, soakMin: 20, shortMl: 320 },
      ...(i === 1 ? { perhapsWatered: true } : {}),
    })),
    canWait: Array.from({ length: waitingCount }, (_, i) => ({
      tray: `leek-${i}`,
      untilRound: i % 2 ? '2026-04-19T05:00:00Z' : '2026-04-19T16:00:00Z',
      hoursToRefill,
    })),
  });
}

function page(dueCount: number, waitingCount: number): readonly string[] {
  const text = roundPage({
    farm: 'alder-row',
    notice: notice(dueCount, waitingCount),
    nowMs: Date.parse(at),
    words,
  });
  return text.split('\n');
}

describe('the round on one page', () => {
  it('says of a few trays everything that is known', () => {
    const lines = page(3, 2);
    expect(lines).toContain('     880 mL in 2 pours of 440 mL, 20 min apart; will not be full');
    expect(lines.filter((line) => line.includes('Perhaps watered already'))).toHaveLength(1);
  });

  it('stays one page for forty trays and more, none left out, in the order of urgency', () => {
    const lines = page(40, 40);
    expect(lines.length).toBeLessThanOrEqual(60);
    expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(80);
    const boxes = lines.filter((line) => line.includes('□'));
    expect(boxes).toHaveLength(40);
    expect(boxes[0]).toBe('□ celery-0*   south  celery, 38 mm blocks  2 x 440 mL, 20 min  8.0 h (6.1 to 11)');
    expect(boxes[1]).toContain('celery-1?*');
    expect(lines.join('\n')).toContain('? Perhaps watered already, nobody said: look before pouring.');
    expect(lines.join(' ').match(/leek-\d+/g)).toHaveLength(40);
    expect(lines).toContainEqual(expect.stringMatching(/^ {3}until 07:00: leek-1, leek-3,/));
  });
});
