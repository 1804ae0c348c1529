import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TrayLine } from '../../shared/facts/tray-line.js';
import { type NamedTray, traysNamed } from '../../src/cli/terminal/typed/named-trays.js';
import { METRIC, US } from '../../src/cli/terminal/typed/typed-units.js';
import { didYouMean, slipCount } from '../../src/watering/sentences/words/did-you-mean.js';
import { RunningMonitor } from '../helpers/running-monitor.js';
import { typed } from '../helpers/typed.js';

const HOUSE: readonly NamedTray[] = [
  { id: 'celery-1', bench: 'south', blockSideMm: 19, crop: 'celery' },
  { id: 'celery-2', bench: 'north', blockSideMm: 38, crop: 'celery' },
  { id: 'leek-1', bench: 'south', blockSideMm: 38.1, crop: 'Leek' },
  { id: 'leek', bench: 'north', blockSideMm: 50.8, crop: 'leek' },
];

describe('words for trays', () => {
  it('slips are counted as one each: left out, put in, changed, swapped', () => {
    expect([slipCount('celry', 'celery'), slipCount('celeryy', 'celery')]).toEqual([1, 1]);
    expect([slipCount('cilery', 'celery'), slipCount('ceelry', 'celery')]).toEqual([1, 1]);
    fc.assert(
      fc.property(fc.string(), fc.string(), (a, b) => {
        const slips = slipCount(a, b);
        return (
          slips === slipCount(b, a) && slips <= Math.max(a.length, b.length) && (slips === 0) === (a === b)
        );
      }),
    );
  });

  it('what is far from everything is not guessed at', () => {
    expect(didYouMean('sprinkle', ['watered', 'tray', 'run'])).toBe('');
    expect(didYouMean('x', ['y', 'z'])).toBe('');
    expect(didYouMean('SOTH', ['north', 'south'])).toBe(' Did you mean "south"?');
  });

  it.each([
    [['south'], ['celery-1', 'leek-1']],
    [['celery'], ['celery-1', 'celery-2']],
    [['mini'], ['celery-1']],
    [['38'], ['celery-2', 'leek-1']],
    [
      ['1.5in', '2in'],
      ['celery-2', 'leek-1', 'leek'],
    ],
    [['leek'], ['leek']],
    [['LEEK'], ['leek-1', 'leek']],
    [
      ['leek-1,celery-1', 'south'],
      ['celery-1', 'leek-1'],
    ],
  ])('%j means %j', (words, ids) => {
    expect(traysNamed(words, HOUSE, METRIC).map(({ id }) => id)).toEqual(ids);
  });

  it("a bare number is a size in the farm's unit", () => {
    const named = (word: string) => traysNamed([word], HOUSE, US).map(({ id }) => id);
    expect(named('1 1/2')).toEqual(['celery-2', 'leek-1']);
    expect(named('2')).toEqual(['leek']);
    expect(named('38mm')).toEqual(['celery-2', 'leek-1']);
    expect(() => named('3')).toThrow(/Sizes: 3\/4 in, 1 1\/2 in, 2 in\./);
  });

  it('an unknown word is told with what was meant, and nothing is done', () => {
    expect(() => traysNamed(['celery-1', 'leek-l'], HOUSE, METRIC)).toThrow(
      /"leek-l" is no tray, .*nothing was changed. Did you mean "leek-1"\? Trays: celery-1,/,
    );
    expect(() => traysNamed(['west'], HOUSE, METRIC, ['west'])).toThrow(/No tray stands on bench west/);
  });
});

describe('telling of many trays', () => {
  let monitor: RunningMonitor;
  const blocks = { blockSideMm: 38, blockCount: 72, crop: 'leek' };
  beforeAll(async () => {
    monitor = await RunningMonitor.start({
      benches: [{ id: 'south' }, { id: 'north' }],
      trays: [
        ...[1, 2, 3, 4, 5, 6].map((i) => ({ id: `leek-${i}`, bench: 'south', ...blocks })),
        { id: 'celery-1', bench: 'north', blockSideMm: 19, blockCount: 280, crop: 'celery', cover: 'film' },
        { id: 'celery-2', bench: 'north', blockSideMm: 19, blockCount: 280, crop: 'celery' },
      ],
    });
  });
  afterAll(() => monitor.stop());
  const tell = (...words: string[]) => typed([...words, '--config', monitor.config]);

  it('waters a size and a tray together, and only where bench and size meet', async () => {
    expect((await tell('watered', 'mini', 'leek-1')).stdout).toMatch(/: leek-1, celery-1, celery-2\./);
    expect(await tell('watered', '--bench', 'north', '--side', '38')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/No tray is all of this: north, 38; nothing was changed/),
    });
  });

  it('waters a bench by its name, and names the trays before when they are more than five', async () => {
    const { status, stdout: out, stderr: err } = await tell('watered', 'south', '--ml', '200');
    expect(err).toBe('This is about 6 trays: leek-1, leek-2, leek-3, leek-4, leek-5, leek-6.\n');
    expect(out).toMatch(/^Watered at .*leek-2, leek-3, leek-4, leek-5, leek-6, 200 mL each\./);
    expect(status).toBe(0);
  });

  it('hints at a mistyped tray and bench, here and at the monitor', async () => {
    expect(await tell('watered', 'celry-1')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/Did you mean "celery-1"\?/),
    });
    expect(await tell('note', 'aphids', '--tray', 'leek-l')).toMatchObject({
      status: 3,
      stderr: expect.stringMatching(/There is no tray "leek-l". Did you mean "leek-1"\?/),
    });
    expect((await tell('tray', 'move', 'leek-1', 'nort')).stderr).toMatch(/Did you mean "north"\?/);
  });

  const covers = async (): Promise<string[]> =>
    (JSON.parse((await tell('tray', 'list', 'celery', '--json')).stdout) as TrayLine[]).map(
      ({ cover }) => cover,
    );

  it('tells the same of each', async () => {
    const dome = await tell('tray', 'cover', 'celery', 'tight-dome');
    expect(dome).toMatchObject({ status: 0, stderr: '' });
    expect(dome.stdout.trim().split('\n')).toHaveLength(2);
    expect(await covers()).toEqual(['tight-dome', 'tight-dome']);
  });

  it('says what is missing where a word is', async () => {
    expect(await tell('tray', 'cover', 'loose-dome')).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/Say which trays, then the kind/),
    });
  });
});
