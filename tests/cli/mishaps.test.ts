import { afterEach, expect, it, vi } from 'vitest';
import { faultsOf, wrongWords } from '../helpers/mishaps.js';
import { drybell } from '../messaging/typed.js';

afterEach(() => vi.restoreAllMocks());

it('every command says one helpful line, and ends with 2, when it is mistyped or its file is not there', async () => {
  const meetings = (await wrongWords()).filter(({ typed }) => typed !== undefined);
  expect(meetings.length).toBeGreaterThan(60);
  const complaints: string[] = [];
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    complaints.push(String(text));
    return true;
  });
  const faults: string[] = [];
  for (const meeting of meetings) {
    complaints.length = 0;
    const { status, out, err } = await drybell(...(meeting.typed ?? []));
    const said = { ...meeting, status, out, err: `${complaints.join('')}${err}` };
    faults.push(
      ...faultsOf(said).map((fault) => `drybell ${meeting.typed?.join(' ')}: ${fault}: ${said.err}`),
    );
  }
  expect(faults).toEqual([]);
});
