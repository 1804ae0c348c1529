import { afterEach, expect, it, vi } from 'vitest';
import { faultsOf, wrongWords } from '../helpers/mishaps.js';
import { typed } from '../helpers/typed.js';

afterEach(() => vi.restoreAllMocks());

it('every command says one helpful line, and ends with 2, when it is mistyped or its file is not there', async () => {
  const meetings = (await wrongWords()).filter(({ typed }) => typed !== undefined);
  expect(meetings.length).toBeGreaterThan(60);
  const faults: string[] = [];
  for (const meeting of meetings) {
    const { status, stdout: out, stderr: err } = await typed([...(meeting.typed ?? [])]);
    const said = { ...meeting, status: status ?? undefined, out, err };
    faults.push(
      ...faultsOf(said).map((fault) => `drybell ${meeting.typed?.join(' ')}: ${fault}: ${said.err}`),
    );
  }
  expect(faults).toEqual([]);
});
