import { describe, expect, it } from 'vitest';
import { LANGUAGES } from '../../shared/base/language.js';
import { unitsSchema } from '../../shared/config/notices.js';
import type { SaidCall } from '../../src/watering/sentences/said/desk-sentences.js';
import { createSpeech } from '../../src/watering/sentences/speech.js';
import { answers, calls, FAR, HOUR_MS, house, NOW, PAST, ROUND, transitions, tray } from './said-cases.js';

function tokens(text: string): readonly string[] {
  return [...new Set(text.replaceAll(',', '.').match(/N\dx|\d+(?:[.:]\d+)*/g) ?? [])];
}
const ENGLISH =
  /\b(the|and|with|water|tray|trays|bench|block|blocks|round|probe|board|until|since|your|you)\b/i;

/** Every sentence that the house can say, with what it was made of, in one language. */
function everything(language: (typeof LANGUAGES)[number], units: unknown): ReadonlyMap<string, string> {
  const { say } = createSpeech({ language, timeZone: 'UTC', units: unitsSchema.parse(units) });
  const said = new Map<string, string>();
  const table = (name: string, entries: object, cases: object): void => {
    for (const [key, value] of Object.entries(entries)) {
      const tried = (cases as Record<string, readonly unknown[][]>)[key] ?? [];
      for (const given of tried.length === 0 ? [[]] : tried)
        said.set(
          `${name}.${key} ${JSON.stringify(given)}`,
          (value as (...all: unknown[]) => string)(...given),
        );
    }
  };
  table('answers', say.answers, answers);
  table('house', say.house, house);
  for (const call of calls) said.set(`call ${JSON.stringify(call)}`, say.call(call));
  said.set(
    'after the quiet hours',
    say.call({ ...(calls[0] as SaidCall), parts: calls.filter((call) => !call.again) }),
  );
  for (const change of transitions) said.set(`alarm ${JSON.stringify(change)}`, say.transition(change));
  for (const count of [0, 1, 4])
    said.set(
      `notice of ${count}`,
      say.roundNotice({
        nowMs: NOW,
        roundMs: ROUND,
        due: Array.from({ length: count }, (_, at) => tray(at + 1, false)),
        waiting: [{ trayId: 'N5x', untilRoundMs: FAR }],
        awayUntilMs: FAR,
      }),
    );
  said.set(
    'nothing stands',
    say.roundNotice({ nowMs: NOW, roundMs: ROUND, due: [], waiting: [], isWithoutTrays: true }),
  );
  for (const names of [['N1x'], ['N1x', 'N2x']])
    said.set(`ask ${names}`, say.ask({ trayIds: names, benchId: 'N8x', roundMs: PAST, nowMs: NOW }));
  for (const bare of [true, false])
    said.set(`test ${bare}`, say.testCall({ farm: 'N1x', way: 'N2x', bareSeen: bare }));
  return said;
}

describe.each(LANGUAGES)('the house in %s', (language) => {
  it.each([{}, { volume: 'fl oz', temperature: 'F', length: 'in', weight: 'lb' }])(
    'says whatever English says, with every name, time and amount in it (units %o)',
    (units) => {
      const other = everything(language, units);
      const lost = [...everything('en', units)].flatMap(([what, english]) => {
        const told = other.get(what) ?? '';
        const missing = tokens(english).filter((one) => !tokens(told).includes(one));
        return missing.length === 0 && told.trim() !== ''
          ? []
          : [`${missing.join(' ')} | ${english} | ${told}`];
      });
      expect(lost).toEqual([]);
    },
  );

  it('does not fall back into English', () => {
    const english = [...everything(language, {}).values()].filter((text) => ENGLISH.test(text));
    if (language !== 'en') expect(english).toEqual([]);
    else expect(english.length).toBeGreaterThan(0);
  });
});

it('one o’clock is one in Spanish, wherever it stands', () => {
  const { say } = createSpeech({ language: 'es', timeZone: 'UTC', units: unitsSchema.parse({}) });
  const oneMs = Date.parse('2026-05-07T01:00:00Z');
  expect(say.answers.timeToCome(oneMs + HOUR_MS, oneMs)).toContain('aquí es la 01:00');
  expect(say.answers.timeToCome(oneMs, oneMs - HOUR_MS)).toMatch(/^La 01:00 .*aquí son las 00:00/);
});
