import { describe, expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import type { RoundNotice } from '../../shared/facts/round-notice.js';
import { Narrator } from '../../src/cli/terminal/narrator.js';
import type { PageFeed } from '../../src/review/feed/page-feed.js';

const config = farmConfigSchema.parse({ farm: 'alder-row', benches: [{ id: 'south' }, { id: 'north' }] });
const feed: PageFeed = {
  present: () => {
    throw new Error('a notice needs no picture of the farm');
  },
} as unknown as PageFeed;

function told(due: RoundNotice['due']): readonly string[] {
  const notice = { at: '2026-04-18T03:45:00Z', round: '2026-04-18T05:00:00Z', due, canWait: [] };
  return new Narrator(config, feed, 3)
    .lines([{ kind: 'round-notice', notice: { ...notice, sentence: 'Water.' } }])
    .slice(1)
    .map((line) => line.replace(/^.*• /, ''));
}

describe('a notice as it is narrated', () => {
  const celery = { tray: 'celery-1', bench: 'south', doseMl: 180 };
  const lettuce = { tray: 'lettuce-2', bench: 'north', doseMl: 130 };

  it('says of each tray on which bench it is where the round goes to several', () => {
    expect(told([celery, lettuce])).toEqual(['celery-1 on south: 180 mL', 'lettuce-2 on north: 130 mL']);
  });

  it('does not where all are on one', () => {
    expect(told([celery])).toEqual(['celery-1: 180 mL']);
  });
});
