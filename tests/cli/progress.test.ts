import { describe, expect, it } from 'vitest';
import { showProgress } from '../../src/cli/terminal/progress.js';

function watched(isTTY: boolean, columns: number) {
  const written: string[] = [];
  const write = (part: string): boolean => written.push(part) > 0;
  let nowMs = 0;
  const terminal = { isTTY, columns, write } as unknown as NodeJS.WriteStream;
  const progress = showProgress('the readings played', terminal, () => nowMs);
  const at = (ms: number, share: number): void => {
    nowMs = ms;
    progress.at(share);
  };
  return { progress, at, text: () => written.join('') };
}

describe('progress of a long job', () => {
  it('is silent for the first two seconds, then says how much and how long still', () => {
    const { at, text, progress } = watched(true, 80);
    at(1000, 0.1);
    expect(text()).toBe('');
    at(10_000, 0.25);
    expect(text()).toContain('  25 % of the readings played, about 30 s left');
    progress.end();
    expect(text()).toMatch(/\r {46}\r$/);
    expect(text()).not.toContain('\x1b');
  });

  it('fits the width of the terminal', () => {
    const { at, text } = watched(true, 20);
    at(10_000, 0.25);
    expect(text()).toBe('\r  25 % of the readi');
  });

  it('is silent where stderr is no terminal, and leaves nothing to take away', () => {
    const { at, text, progress } = watched(false, 80);
    at(10_000, 0.25);
    progress.end();
    expect(text()).toBe('');
  });
});
