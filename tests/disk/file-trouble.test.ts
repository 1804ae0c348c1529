import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { fileTrouble, isFileTrouble } from '../../src/host/disk/file-trouble.js';
import { typed } from '../helpers/typed.js';
import { tempFolder } from '../store/helpers/temp-folder.js';

function failure(work: () => unknown): unknown {
  try {
    work();
  } catch (cause) {
    return cause;
  }
  throw new Error('it did not fail');
}

it('a failure of the file system is told in words', () => {
  const folder = tempFolder();
  const gone = failure(() => readFileSync(join(folder, 'gone')));
  expect([isFileTrouble(gone), fileTrouble(gone)]).toEqual([
    true,
    'there is no such file or folder; check the path',
  ]);
  expect(fileTrouble(failure(() => readFileSync(folder)))).toContain('is a folder');
  writeFileSync(join(folder, 'file'), '');
  expect(fileTrouble(failure(() => mkdirSync(join(folder, 'file', 'below'))))).toContain(
    'is a file, not a folder',
  );
});

it('one of the network is none of the file system', async () => {
  const refused = await new Promise((tell) => connect(1, '127.0.0.1').once('error', tell));
  expect(isFileTrouble(refused)).toBe(false);
});

it.each([
  ['convert', 'nowhere.csv', '--time', 'time', '--value', 'a=b', '--zone', 'UTC', '--out', 'out.csv'],
  ['convert', '.', '--time', 'time', '--value', 'a=b', '--zone', 'UTC', '--out', 'out.csv'],
  ['look', 'nowhere.csv', '--json'],
  ['init', '--yes', '--farm', 'a', '--out', 'file/below/drybell.jsonc'],
])('no command passes the library’s words for it on: drybell %s %s', async (...words) => {
  const folder = tempFolder();
  writeFileSync(join(folder, 'file'), '');
  const { status, stderr } = await typed(words, folder);
  expect([2, 3]).toContain(status);
  expect(stderr.trim().split('\n')).toHaveLength(1);
  expect(stderr).not.toMatch(/\bE[A-Z]{4,}\b|no such file or directory, |syscall/);
});
