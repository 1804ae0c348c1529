import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { batteryClockMs, latestChangeMs } from '../../src/cli/kit/starting/clock-facts.js';
import { type ClockFacts, clockTrust } from '../../src/cli/kit/starting/clock-trust.js';
import { serviceUnit } from '../../src/cli/kit/starting/service-unit.js';
import { describeIf } from '../helpers/needs.js';

const places = {
  node: process.execPath,
  program: '/opt/dry bell/main.js',
  config: '/etc/drybell/100%/drybell.jsonc',
  user: 'drybell',
  portGroup: 'dialout',
};

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drybell-service-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe('serviceUnit()', () => {
  it('runs under its own user, may use serial ports, restarts, and waits for the clock first', () => {
    const unit = serviceUnit(places);
    for (const line of [
      'User=drybell',
      'SupplementaryGroups=dialout',
      'Restart=on-failure',
      'DeviceAllow=char-ttyACM rw',
      'DeviceAllow=char-ttyUSB rw',
      'TimeoutStartSec=infinity',
      'WantedBy=multi-user.target',
    ])
      expect(unit.split('\n')).toContain(line);
    expect(unit).toMatch(/^ExecStartPre=.* service wait-for-clock --config /m);
  });

  it('quotes blanks and doubles the signs that systemd expands', () => {
    expect(serviceUnit(places)).toContain(
      `ExecStart=${process.execPath} --max-semi-space-size=1 "/opt/dry bell/main.js" run --config /etc/drybell/100%%/drybell.jsonc`,
    );
  });
});

describeIf('systemd-analyze', 'systemd', () => {
  const verified = (unit: string) => {
    const file = join(folder, 'drybell.service');
    writeFileSync(file, unit);
    return spawnSync('systemd-analyze', ['verify', '--man=no', file], { encoding: 'utf8' });
  };

  it('accepts the unit without a word', () => {
    const { status, stderr } = verified(serviceUnit({ ...places, program: process.execPath }));
    expect(stderr.split('\n').filter((line) => line.includes('drybell.service'))).toEqual([]);
    expect(status).toBe(0);
  });

  it('finds it well shut in: exposure at most 2.5', () => {
    const file = join(folder, 'drybell.service');
    writeFileSync(file, serviceUnit({ ...places, program: process.execPath }));
    const { stdout } = spawnSync('systemd-analyze', ['security', '--offline=true', '--no-pager', file], {
      encoding: 'utf8',
    });
    const [, level] = /exposure level for drybell.service: ([\d.]+)/.exec(stdout) ?? [];
    expect(Number(level)).toBeLessThanOrEqual(2.5);
  });

  it('would have said so if the unit were wrong', () => {
    const { stderr } = verified(serviceUnit(places).replace('Restart=on-failure', 'Restart=perhaps'));
    expect(stderr).toContain('drybell.service');
  });
});

describe('clockTrust()', () => {
  const nowMs = Date.UTC(2026, 3, 18, 7);
  const facts: ClockFacts = {
    nowMs,
    notBeforeMs: nowMs - 1000,
    synchronised: false,
    batteryClockMs: undefined,
    confirmed: false,
  };

  it('does not trust a clock that merely goes on from the last power cut', () => {
    expect(clockTrust(facts)).toMatchObject({
      kind: 'not-yet',
      because: expect.stringContaining('no battery clock'),
    });
  });

  it('trusts a time server, a battery clock that agrees, or a person', () => {
    expect(clockTrust({ ...facts, synchronised: true }).kind).toBe('trusted');
    expect(clockTrust({ ...facts, batteryClockMs: nowMs + 1500 }).kind).toBe('trusted');
    expect(clockTrust({ ...facts, confirmed: true }).kind).toBe('trusted');
  });

  it('trusts nobody when a kept reading is later than the clock', () => {
    const early = { ...facts, notBeforeMs: nowMs + 60_000, synchronised: true, confirmed: true };
    expect(clockTrust(early)).toMatchObject({
      kind: 'not-yet',
      because: expect.stringContaining('is past already'),
    });
  });

  it('does not trust a battery clock with a flat cell', () => {
    expect(clockTrust({ ...facts, batteryClockMs: Date.UTC(2000, 0, 1) })).toMatchObject({
      kind: 'not-yet',
      because: expect.stringContaining('new cell'),
    });
  });
});

describe('what the machine knows of its clock', () => {
  it('batteryClockMs() reads the clock from which the system was set, and no other', () => {
    const rtc = (name: string, sets: string, epoch: string) => {
      mkdirSync(join(folder, name));
      writeFileSync(join(folder, name, 'hctosys'), sets);
      writeFileSync(join(folder, name, 'since_epoch'), epoch);
    };
    expect(batteryClockMs(join(folder, 'none'))).toBeUndefined();
    rtc('rtc0', '0\n', '946684800\n');
    expect(batteryClockMs(folder)).toBeUndefined();
    rtc('rtc1', '1\n', '1776495600\n');
    expect(batteryClockMs(folder)).toBe(1_776_495_600_000);
  });

  it('latestChangeMs() is the newest file of a folder', () => {
    const file = join(folder, 'readings.db');
    writeFileSync(file, '');
    utimesSync(file, 1_776_495_600, 1_776_495_600);
    expect(latestChangeMs(folder)).toBe(1_776_495_600_000);
    expect(latestChangeMs(join(folder, 'nothing'))).toBe(0);
  });
});
