import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { boardSchema } from '../../../shared/config/kit/hookup.js';
import { probeSchema } from '../../../shared/config/kit/probes.js';
import { findConflicts } from '../../../src/board/wiring/conflicts/conflicts.js';

const uno = (more: object = {}) => boardSchema.parse({ id: 'b1', ...more });
const blade = (id: string, input: string) =>
  probeSchema.parse({
    id,
    kind: 'block-moisture',
    hookup: { part: 'capacitive-moisture', board: 'b1', input },
  });
const air = (id: string, bench: string, hookup: object) =>
  probeSchema.parse({ id, kind: 'air-temperature', bench, hookup: { board: 'b1', ...hookup } });

/** Each mistake of the guide, made. */
const MADE: Readonly<Record<string, Parameters<typeof findConflicts>>> = {
  'a lamp on a pin that the board has not': [[uno({ callPost: { lampPin: 20 } })], []],
  'two jobs of one pin': [[uno({ probePower: { pin: 8 }, callPost: { lampPin: 8 } })], []],
  'one I2C address twice': [
    [uno()],
    [air('temp-south', 'south', { part: 'sht31' }), air('temp-north', 'north', { part: 'sht31' })],
  ],
  'more than a pin gives': [
    [uno({ probePower: { pin: 7 } })],
    ['A0', 'A1'].map((input, n) =>
      air(`temp-${n}`, `bench-${n}`, {
        part: 'thermistor',
        input,
        fixedOhm: 1000,
        curve: { resistanceAt25Ohm: 1000, betaK: 3950 },
      }),
    ),
  ],
  'an analog pin too many': [[uno()], Array.from({ length: 7 }, (_, n) => blade(`m${n}`, `A${n}`))],
};

const guide = readFileSync('hardware/README.md', 'utf8');
const listed = [...guide.matchAll(/^ {4}([a-zA-Z].*?) {3,}(.+)$/gm)].map(
  ([, mistake = '', sentence = '']) => [mistake, sentence] as const,
);

it.each(listed)('the guide says of %s what the checker says', (mistake, sentence) => {
  const made = MADE[mistake];
  expect(made, `nothing here makes "${mistake}"`).toBeDefined();
  expect(findConflicts(...(made as NonNullable<typeof made>)).map(({ problem }) => problem)).toContain(
    sentence,
  );
});

it('the guide shows each of these mistakes', () => {
  expect(listed.map(([mistake]) => mistake).toSorted()).toEqual(Object.keys(MADE).toSorted());
});
