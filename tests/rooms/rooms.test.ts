import { describe, expect, it } from 'vitest';
import { drawRooms } from './drawing.js';
import { folderCircles, fullFolders, type Import, OWN_FILES } from './tree.js';

const importsOf = (...lines: readonly string[]): Import[] =>
  lines.map((line) => {
    const [from = '', to = ''] = line.split(' > ');
    return { from, to };
  });

describe('folderCircles()', () => {
  it('finds none where imports go one way, however deep', () => {
    expect(
      folderCircles(
        importsOf(
          'src/a/x/one.ts > src/b/y/two.ts',
          'src/a/x/one.ts > src/a/z/three.ts',
          'src/b/y/two.ts > src/c.ts',
        ),
      ),
    ).toEqual([]);
  });

  it('finds two rooms that import each other, though no file does', () => {
    const imports = importsOf('src/a/one.ts > src/b/two.ts', 'src/b/three.ts > src/a/four.ts');
    expect(folderCircles(imports)).toEqual([{ folder: 'src', rooms: ['a', 'b'], imports }]);
  });

  it('finds a circle over three rooms below the first level, and only there', () => {
    const circles = folderCircles(
      importsOf(
        'src/a/x/1.ts > src/a/y/deep/2.ts',
        'src/a/y/3.ts > src/a/z/4.ts',
        'src/a/z/5.ts > src/a/x/6.ts',
        'src/a/x/1.ts > src/b/7.ts',
      ),
    );
    expect(circles.map(({ folder, rooms }) => ({ folder, rooms }))).toEqual([
      { folder: 'src/a', rooms: ['x', 'y', 'z'] },
    ]);
  });

  it("finds a sub-folder that imports its folder's own files when they import it", () => {
    const circles = folderCircles(
      importsOf('src/a/top.ts > src/a/x/one.ts', 'src/a/x/one.ts > src/a/base.ts'),
    );
    expect(circles.map(({ rooms }) => rooms)).toEqual([[OWN_FILES, 'x']]);
  });
});

describe('fullFolders()', () => {
  it('counts sub-folders as one entry each', () => {
    const files = ['src/a/1.ts', 'src/a/2.ts', 'src/a/x/3.ts', 'src/a/x/4.ts'];
    expect(fullFolders(files, 3)).toEqual([]);
    expect(fullFolders(files, 2)).toEqual([{ folder: 'src/a', entries: 3 }]);
  });
});

describe('drawRooms()', () => {
  it('puts each room above what it imports, and leaves out what an imported room imports already', () => {
    const rooms = ['a', 'b', 'c', 'shared'].map((name) => ({ name, holds: `what ${name} holds` }));
    expect(
      drawRooms(
        rooms,
        importsOf(
          'src/a/1.ts > src/b/1.ts',
          'src/b/1.ts > src/c/1.ts',
          'src/a/1.ts > src/c/1.ts',
          'src/c/1.ts > shared/1.ts',
        ),
      ),
    ).toBe(
      [
        '3  a       what a holds',
        '           imports b',
        '2  b       what b holds',
        '           imports c',
        '1  c       what c holds',
        '           imports shared',
        '0  shared  what shared holds',
        '',
      ].join('\n'),
    );
  });
});
