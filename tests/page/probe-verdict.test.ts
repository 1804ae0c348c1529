import { describe, expect, it } from 'vitest';
import { probeVerdict, troubleOf } from '../../shared/facts/probe-verdict.js';
import { BEYOND_CALIBRATION } from '../../shared/facts/reading-belief.js';

const WELL = { trouble: undefined, isHeard: true, contradictedH: 0 } as const;

describe('probeVerdict()', () => {
  it('is that of the judge where the judge found something, also while the monitor hears no probe at all', () => {
    expect(probeVerdict({ ...WELL, trouble: troubleOf('flat-line') })).toEqual({
      ok: false,
      reason: 'flat-line',
    });
    expect(probeVerdict({ ...WELL, trouble: troubleOf('monitor-blind') })).toEqual({
      ok: false,
      reason: 'silent',
    });
    expect(probeVerdict({ ...WELL, trouble: troubleOf('ok') })).toEqual({ ok: true, reason: '' });
  });

  it('does not trust what was never heard, did not answer, or has just read what does not count', () => {
    expect(probeVerdict({ ...WELL, isHeard: false }).reason).toBe('not-heard');
    expect(probeVerdict({ ...WELL, newest: { flag: 9, flagReasons: ['no-answer'] } }).reason).toBe(
      'no-answer',
    );
    expect(probeVerdict({ ...WELL, newest: { flag: 4, flagReasons: ['spike'] } }).reason).toBe('odd-reading');
  });

  it('trusts a probe that reads above its wettest weighed point, as it must after a pour', () => {
    expect(probeVerdict({ ...WELL, newest: { flag: 3, flagReasons: [BEYOND_CALIBRATION] } }).ok).toBe(true);
  });

  it('doubts a probe whose readings the model has not been able to follow for three hours', () => {
    expect(probeVerdict({ ...WELL, contradictedH: 2.9 }).ok).toBe(true);
    expect(probeVerdict({ ...WELL, contradictedH: 3 }).reason).toBe('contradicts');
  });
});
