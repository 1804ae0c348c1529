import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { parseConfig } from '../../src/cli/config/load-config.js';
import { describeIf } from '../helpers/needs.js';
import { drybell } from '../helpers/running-monitor.js';
import { TypedTerminal } from '../helpers/typed-terminal.js';

const folder = mkdtempSync(join(tmpdir(), 'drybell-init-tty-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Each question, and what a grower types. */
const session: readonly (readonly [RegExp, string])[] = [
  [/Name of the farm.*\[my-farm\] $/, 'alder-row'],
  [/Its time zone \[UTC\] $/, 'Pacific/Auckland'],
  [/Its place.*\[-36\.\d, 174\.\d\] $/, '36.9S 174.8E'],
  [/When do you walk.*\[07:00, 18:00\] $/, '6:30, 17:30'],
  [/Language.*English or Spanish \[English\] $/, 'español'],
  [/Units.*\[metric\] $/, ''],
  [/Benches.*\[south\] $/, 'south, north'],
  [/Call when.*°C.*\[2, 38\] $/, '1, 36'],
];

describeIf('script', 'drybell init on a terminal', () => {
  it('is left by Ctrl-C at every question, taken up there, and writes what it would have written at one go', async () => {
    for (const [index, [question, typed]] of session.entries()) {
      const terminal = new TypedTerminal(['init', '--out', 'left.jsonc'], folder);
      await terminal.until(question);
      expect(terminal.shown).not.toMatch(/Name of the farm[\s\S]*Its time zone/);
      if (index === session.length - 1) {
        terminal.type(typed);
        await terminal.until(/left\.jsonc is written/);
        expect(await terminal.ended()).toBe(0);
        break;
      }
      terminal.type(typed);
      await terminal.until(session[index + 1]?.[0] ?? /-/);
      terminal.pressCtrlC();
      await terminal.until(/Left; nothing is written but the answers so far/);
      expect(await terminal.ended()).toBe(3);
      expect(existsSync(join(folder, 'left.jsonc'))).toBe(false);
    }
    expect(existsSync(join(folder, 'left.jsonc.begun'))).toBe(false);

    const atOnce = new TypedTerminal(['init', '--out', 'at-once.jsonc'], folder);
    for (const [question, typed] of session) {
      await atOnce.until(question);
      atOnce.type(typed);
    }
    expect(await atOnce.ended()).toBe(0);
    const text = readFileSync(join(folder, 'left.jsonc'), 'utf8');
    expect(readFileSync(join(folder, 'at-once.jsonc'), 'utf8')).toBe(text);
    expect(parseConfig(text, 'left.jsonc')).toMatchObject({
      farm: 'alder-row',
      timeZone: 'Pacific/Auckland',
      latitude: -36.9,
      longitude: 174.8,
      rounds: ['06:30', '17:30'],
      language: 'es',
      benches: [
        { id: 'south', temperatureLimitsC: { low: 1, high: 36 } },
        { id: 'north', temperatureLimitsC: { low: 1, high: 36 } },
      ],
    });
    expect(drybell(['check', '--config-only', '--config', 'left.jsonc'], folder).status).toBe(0);
  });

  it('left before the first answer keeps nothing', async () => {
    const terminal = new TypedTerminal(['init', '--out', 'none.jsonc'], folder);
    await terminal.until(/Name of the farm.*\] $/);
    terminal.pressCtrlC();
    await terminal.until(/Left before the first answer; nothing is written/);
    expect(await terminal.ended()).toBe(3);
    expect(existsSync(join(folder, 'none.jsonc.begun'))).toBe(false);
  });

  it('asks again what does not fit, with a hint', async () => {
    const terminal = new TypedTerminal(['init', '--out', 'again.jsonc', '--farm', 'alder-row'], folder);
    await terminal.until(/Its time zone \[UTC\] $/);
    terminal.type('Europe/Belrin');
    await terminal.until(/Did you mean "Europe\/Berlin"\?/);
    await terminal.until(/Its time zone \[UTC\] $/);
    terminal.type('Europe/Berlin');
    await terminal.until(/Its place.*\[52\.5, 13\.4\] $/);
    terminal.type('52.5, -75');
    await terminal.until(/the sun is .* off the clock of Europe\/Berlin/);
    await terminal.until(/Its place.*\] $/);
    terminal.type('');
    await terminal.until(/When do you walk.*\] $/);
    terminal.pressCtrlC();
    expect(await terminal.ended()).toBe(3);
  });

  it('changes one thing of a configuration that is there; Enter keeps the rest, comments and all', async () => {
    drybell(['init', '--yes', '--time-zone', 'Europe/Berlin', '--out', 'there.jsonc'], folder);
    const before = readFileSync(join(folder, 'there.jsonc'), 'utf8');
    const terminal = new TypedTerminal(['init', '--out', 'there.jsonc'], folder);
    for (const question of [
      /Name.*\[my-farm\] $/,
      /zone.*\] $/,
      /place.*\] $/,
      /walk.*\] $/,
      /Language.*\] $/,
      /Units.*\] $/,
      /Benches.*\] $/,
      /Call when.*\] $/,
    ]) {
      await terminal.until(question);
      terminal.type(question.source.startsWith('walk') ? '06:00' : '');
    }
    await terminal.until(/there\.jsonc is changed, its comments kept/);
    expect(await terminal.ended()).toBe(0);
    expect(readFileSync(join(folder, 'there.jsonc'), 'utf8')).toBe(
      before.replace('"rounds": ["07:00", "18:00"]', '"rounds": ["06:00"]'),
    );
  });
});
