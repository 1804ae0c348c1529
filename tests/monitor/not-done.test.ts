import { describe, expect, it } from 'vitest';
import { Pipeline } from '../../src/monitor/pipeline.js';
import { spokenFact } from '../../src/monitor/ports/spoken-fact.js';
import { createProbeJudge } from '../../src/sensing/probe-judge.js';
import { english, inWords } from '../helpers/in-words.js';
import { farm as farmConfig, forecast, HOUR, MIDNIGHT, MIN } from '../watering/helpers.js';
import { callsOf, DictatedFarm } from './dictated-farm.js';

const noon = MIDNIGHT + 12 * HOUR;
const TEN_MIN = 10 * MIN;
/** A forecast that the model's own water belies within minutes is made anew each time it is looked at. */
const FALLING_FAST = { hoursLeft: 0.5, waterContent: 0.7 };

/** A farm whose forecasts can't be made in some hours, driven as the house drives it. */
function farmThatFails(
  fails: (nowMs: number) => boolean,
  { hoursLeft, waterContent } = { hoursLeft: 60, waterContent: 0.5 },
) {
  const farm = new DictatedFarm((trayId, nowMs) => {
    if (fails(nowMs)) throw new RangeError('no ensemble of this tray');
    return forecast(trayId, nowMs, hoursLeft, { basis: 'shared', waterContent });
  });
  const mistakes: unknown[] = [];
  const pipeline = new Pipeline({
    probes: [],
    core: farm.parts,
    day: farm.day,
    judgeOf: createProbeJudge,
    readingFacts: true,
    complain: (mistake) => mistakes.push(mistake),
  });
  pipeline.takeFacts();
  const runTo = (atMs: number) => {
    pipeline.advanceTo(atMs);
    return pipeline.takeFacts();
  };
  return { pipeline, runTo, mistakes };
}

const notes = (facts: ReturnType<Pipeline['takeFacts']>): readonly string[] =>
  facts.flatMap((fact) => (fact.kind === 'note' ? [inWords(fact.said)] : []));

describe('a decision that our own mistake keeps from being made', () => {
  it('ends nothing: people are called once to look themselves, and it is tried again', () => {
    const isBad = (nowMs: number) => nowMs >= noon && nowMs < noon + HOUR;
    const { pipeline, runTo, mistakes } = farmThatFails(isBad);
    runTo(noon - 1);
    const facts = runTo(noon + 50 * MIN);
    expect(callsOf(facts)).toEqual([[]]);
    const call = facts.find(({ kind }) => kind === 'call');
    expect(call && spokenFact(call, english)).toMatchObject({
      call: {
        kind: 'monitor',
        source: 'decisions',
        sentence: expect.stringMatching(/look at them yourself/),
      },
    });
    expect(notes(facts).filter((text) => text.startsWith('Which trays'))).toHaveLength(1);
    expect(mistakes.length).toBeGreaterThanOrEqual(6);
    expect(pipeline.health()).toContainEqual(expect.objectContaining({ source: 'decisions', ok: false }));
    runTo(noon + HOUR + TEN_MIN);
    expect(pipeline.health().filter(({ source }) => source === 'decisions')).toEqual([]);
    expect(pipeline.command({ do: 'watered', tray: 't1' }, 'w1').ok).toBe(true);
  });

  it('a notice that fails is called for too, and the next round has one', () => {
    const { leadMin } = farmConfig().notices;
    const notice = MIDNIGHT + 18 * HOUR - leadMin * MIN;
    const { runTo } = farmThatFails((nowMs) => nowMs === notice, FALLING_FAST);
    runTo(notice - 1);
    const facts = runTo(notice + 20 * MIN);
    expect(facts.filter(({ kind }) => kind === 'round-notice')).toEqual([]);
    expect(notes(facts)).toContainEqual(expect.stringMatching(/^The notice of the coming round/));
    const later = runTo(MIDNIGHT + 31 * HOUR);
    expect(later.filter(({ kind }) => kind === 'round-notice')).toHaveLength(1);
  });
});
