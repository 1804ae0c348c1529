import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { expect, it } from 'vitest';

const folders = ['src', 'shared', 'tests', 'hardware', 'firmware-notes'];
const pages = [
  'README.md',
  'DEVELOPERS.md',
  ...folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((path) => path.endsWith('.md'))
      .map((path) => join(folder, path)),
  ),
];

it('every link from one page of the project to another leads somewhere', () => {
  const links = pages.flatMap((page) =>
    [...readFileSync(page, 'utf8').matchAll(/\]\(([^)#\s]+)[^)]*\)|src="([^"]+)"/g)]
      .map(([, link, picture]) => link ?? picture ?? '')
      .filter((link) => !/^[a-z]+:/.test(link))
      .map((link) => ({ page, link, target: join(dirname(page), link) })),
  );
  expect(links.length).toBeGreaterThan(10);
  expect(links.filter(({ target }) => !existsSync(target))).toEqual([]);
});
